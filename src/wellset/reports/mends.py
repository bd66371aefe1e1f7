"""What would mend the conflicts of one club, each thing said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wellset.prescribe import Conflict, Remedy


def said_once(conflicts: Sequence[Conflict], /) -> Iterator[tuple[Conflict, tuple[Remedy, ...]]]:
    """Every conflict of a club with the remedies that no conflict before it named.

    What mends a club mends several conflicts at once; a page that says so under each is long
    and hides what differs.

    Parameters
    ----------
    conflicts : sequence of Conflict
    """
    said: set[str] = set()
    for conflict in conflicts:
        yield conflict, tuple(r for r in conflict.remedies if r.message not in said)
        said |= {r.message for r in conflict.remedies}
