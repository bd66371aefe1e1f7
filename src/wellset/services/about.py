"""What produced an assessment, and what is doubtful about all of it."""

from __future__ import annotations

from wellset import __version__
from wellset.assess import Fit
from wellset.assess.gap import EDITION as GAP_EDITION
from wellset.body import mass_model
from wellset.figure.notes import Note
from wellset.services.assessment import Student, Versions
from wellset.services.misfit_notes import misfit_notes
from wellset.standards import Standards


def versions_of(student: Student, standards: Standards) -> Versions:
    """Program, tables and standards that an assessment rests on."""
    build = student.build
    return Versions(
        program=__version__,
        tables=(
            f"lengths: {build.edition}",
            f"masses: {mass_model(build.sex).edition.name}",
            f"rendered to real people: {GAP_EDITION}",
        ),
        standards=standards.version,
    )


def notes_about(student: Student, solved: Fit) -> list[Note]:
    """What is doubtful about the whole assessment."""
    notes = [
        Note(code=c.code, message=f"{c.what} {c.why}", remedy=c.fix)
        for c in student.build.cautions()
    ]
    if not solved.converged:
        notes.append(
            Note(
                code="not_converged",
                message="The estimate had not settled when the search stopped; the numbers may "
                "shift by more than their intervals.",
                remedy="Give both pictures, and check the points drawn on them.",
            )
        )
    return [*notes, *misfit_notes(solved.misfits, pictures=len(solved.cameras))]
