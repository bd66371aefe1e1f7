from __future__ import annotations

import re

import pytest
from fastapi import FastAPI
from fastapi.routing import iter_route_contexts
from fastapi.testclient import TestClient

from tests.integration.web.conftest import PASSWORD, token_of
from wellset.services.lesson_work import Desk
from wellset.web import Options, create_app

OPEN = {"/first", "/sign-in"}
LINKS = {
    "/s/{secret}",
    "/s/{secret}/check/{setup_id}",
    "/s/{secret}/media/{setup_id}/{view}",
    "/s/{secret}/sheet/{setup_id}",
    "/s/{secret}/sheet/{setup_id}/print",
    "/s/check.css",
    "/s/drill.css",
    "/s/sheet.css",
}


def test_the_first_start_asks_for_a_password_and_lets_the_machine_in(
    stranger: TestClient,
) -> None:
    page = stranger.get("/")
    assert page.url.path == "/first"
    page = stranger.post("/first", data={"password": PASSWORD, "again": PASSWORD})
    assert (page.status_code, page.url.path) == (200, "/")
    assert "Today" in page.text


@pytest.mark.parametrize(
    ("password", "again", "words"),
    [("short", "short", "Choose 8 to 200"), (PASSWORD, "three big words", "differ")],
)
def test_a_password_that_cannot_be_used_is_refused_in_words(
    stranger: TestClient, password: str, again: str, words: str
) -> None:
    page = stranger.post("/first", data={"password": password, "again": again})
    assert page.status_code == 422
    assert words in page.text


def test_the_password_is_chosen_once(coach: TestClient) -> None:
    page = coach.post("/first", data={"password": "somebody else", "again": "somebody else"})
    assert page.status_code == 422
    assert "chosen already" in page.text


def test_another_device_cannot_choose_the_password(desk: Desk, app: FastAPI) -> None:
    del desk
    phone = TestClient(
        app, client=("192.168.1.20", 5000), headers={"sec-fetch-site": "same-origin"}
    )
    page = phone.post("/first", data={"password": PASSWORD, "again": PASSWORD})
    assert "another one" in page.text
    assert page.status_code == 422


def test_every_page_but_the_entrance_and_links_asks_strangers_to_sign_in(
    app: FastAPI, coach: TestClient
) -> None:
    coach.cookies.clear()
    routes = [each for each in iter_route_contexts(app.routes) if each.path != "/static"]
    assert len(routes) > 20
    unguarded = {
        route.path
        for route in routes
        for method in route.methods or ()
        if not asks_to_sign_in(coach, method, str(route.path))
    }
    assert unguarded == OPEN | LINKS


def asks_to_sign_in(stranger: TestClient, method: str, path: str) -> bool:
    """Whether a stranger is sent to the password, or told that there is no session."""
    address = re.sub(r"\{[^}]+\}", "face_on", path)
    answer = stranger.request(method, address, follow_redirects=False)
    to_the_door = answer.headers.get("location", "").startswith("/sign-in?goal=")
    return answer.status_code == 401 or (answer.status_code == 303 and to_the_door)


def test_after_signing_in_the_page_asked_for_is_shown(coach: TestClient) -> None:
    coach.cookies.clear()
    page = coach.get("/students")
    assert page.url.path == "/sign-in"
    page = coach.post("/sign-in", data={"password": PASSWORD, "goal": "/students"})
    assert page.url.path == "/students"


@pytest.mark.parametrize("goal", ["https://evil.example/", "//evil.example", "/\\evil.example"])
def test_signing_in_never_leads_to_another_site(coach: TestClient, goal: str) -> None:
    page = coach.post("/sign-in", data={"password": PASSWORD, "goal": goal}, follow_redirects=False)
    assert page.headers["location"] == "/"


def test_guessing_passwords_gets_slower(coach: TestClient) -> None:
    tries = [coach.post("/sign-in", data={"password": f"guess {i}"}) for i in range(7)]
    assert [page.status_code for page in tries[:5]] == [401] * 5
    assert tries[6].status_code == 429
    assert re.search(r"Wait \d+ s", tries[6].text)


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {},
    ],
)
def test_a_change_asked_for_by_another_site_is_refused(
    app: FastAPI, coach: TestClient, headers: dict[str, str]
) -> None:
    token = token_of(coach.get("/settings").text)
    elsewhere = TestClient(app, cookies=dict(coach.cookies))
    page = elsewhere.post("/sign-out", data={"token": token}, headers=headers)
    assert page.status_code == 403


def test_a_form_without_the_sessions_token_is_refused(coach: TestClient) -> None:
    for token in ("", "0" * 64):
        page = coach.post("/sign-out", data={"token": token})
        assert page.status_code == 422
        assert "not opened by this session" in page.text


@pytest.mark.parametrize("host", ["evil.example", "192.168.1.10", "localhost.evil.example", ""])
def test_a_name_that_is_not_ours_is_not_answered(coach: TestClient, host: str) -> None:
    assert coach.get("/", headers={"host": host}).status_code == 421


def test_with_lan_addresses_of_the_local_network_are_answered(desk: Desk, line: object) -> None:
    client = TestClient(create_app(desk, line=line, options=Options(lan=True)))  # type: ignore[arg-type]
    assert client.get("/sign-in", headers={"host": "192.168.1.10:8484"}).status_code == 200
    assert client.get("/sign-in", headers={"host": "93.184.216.34"}).status_code == 421


def test_every_answer_carries_the_strict_rules_for_browsers(coach: TestClient) -> None:
    for path in ("/", "/students", "/no-such-page", "/sign-in"):
        headers = coach.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"


def test_a_changed_password_signs_the_other_devices_out(app: FastAPI, coach: TestClient) -> None:
    other = TestClient(app, cookies=dict(coach.cookies))
    token = token_of(coach.get("/settings").text)
    sent = {"token": token, "old": PASSWORD, "password": "other words", "again": "other words"}
    assert "is changed" in coach.post("/settings/password", data=sent).text
    assert coach.get("/").url.path == "/"
    assert other.get("/").url.path == "/sign-in"


def test_a_request_too_long_to_be_a_form_is_refused(coach: TestClient) -> None:
    page = coach.post("/sign-in", data={"password": "x" * 2_100_000})
    assert page.status_code == 413


def test_an_unknown_page_is_told_in_words(coach: TestClient) -> None:
    page = coach.get("/no-such-page")
    assert page.status_code == 404
    assert "Start from Today" in page.text
    answer = coach.get("/api/no-such-thing")
    assert answer.json()["error"]["what"] == "There is no such page"


def test_what_a_name_holds_is_never_taken_for_markup(coach: TestClient) -> None:
    page = coach.get("/students", params={"text": "<script>alert(1)</script>"})
    assert "<script>alert" not in page.text
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page.text
