"""Is the one fault from which everything else follows named first?"""

from __future__ import annotations

import pytest

from tests.support.rooted import count_roots


@pytest.mark.slow
def test_where_the_body_follows_a_fault_the_fault_is_mostly_named_first() -> None:
    found = count_roots(48, seed=20_261, body_follows=True)
    assert found.students >= 40
    # the aim is 90 %; the page on the first change states what is reached, 161 of 172. With that
    # chance fewer than 37 of 46 happen about once in 500
    assert found.first / found.students >= 0.80
    # were it 95 %, fewer than 40 of 47 happen about once in 500
    assert found.first_two / found.students >= 0.85
    assert found.first > 1.5 * found.by_order


@pytest.mark.slow
def test_where_all_else_is_kept_right_the_fault_is_mostly_named_first_too() -> None:
    found = count_roots(36, seed=20_262, body_follows=False)
    assert found.students >= 12
    # 80 of 91 on the page; with that chance fewer than 11 of 15 happen about once in 40
    assert found.first / found.students >= 0.70
