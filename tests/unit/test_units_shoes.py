import pytest

from wellset.errors import InputError
from wellset.units import foot_length_of_shoe


@pytest.mark.parametrize(
    ("size", "mm"),
    # Common size charts, from memory: makers differ by half a size (about 4 mm) and more.
    [("EU 40", 252), ("EU 43", 272), ("UK 9", 273), ("US 10", 273), ("US women 8.5", 252)],
)
def test_a_shoe_size_gives_the_foot_of_common_size_charts(size: str, mm: float) -> None:
    assert 1000 * foot_length_of_shoe(size) == pytest.approx(mm, abs=6)


def test_the_foots_own_length_is_taken_as_it_is() -> None:
    # ISO 9407 (Mondopoint): the size is the length of the foot.
    assert foot_length_of_shoe("27.5 cm") == foot_length_of_shoe("275 mm") == 0.275


def test_systems_agree_that_a_larger_number_is_a_longer_foot() -> None:
    for system in ("EU", "UK", "US", "US women"):
        low = {"EU": 38}.get(system, 5)
        sizes = [foot_length_of_shoe(f"{system} {low + i}") for i in range(6)]
        assert sizes == sorted(sizes)


@pytest.mark.parametrize("text", ["43", "EU", "", "XL", "EU 430", "UK 99"])
def test_a_size_without_system_or_of_no_foot_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="shoe size"):
        foot_length_of_shoe(text)
