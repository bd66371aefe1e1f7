"""What programs send and get. Moments are UTC, lengths metres, angles degrees."""

from __future__ import annotations

from typing import Annotated, Generic, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field

Item = TypeVar("Item")
Id = Annotated[str, Field(description="Its name in the book.")]
Version = Annotated[
    int,
    Field(ge=0, description="Counts the saves. Send back the one you read."),
]
Moment = Annotated[str, Field(description="UTC, such as 2026-11-25T12:52:03Z.")]
ViewName = Literal["face_on", "down_the_line"]


class Part(BaseModel):
    """Fields that are not known are refused."""

    model_config = ConfigDict(extra="forbid")


class Said(Part):
    """What went wrong."""

    what: str = Field(description="What cannot be done.")
    why: str = Field(description="Why not.")
    fix: str = Field(description="What to do about it.")
    where: str = Field(description="The field or file it is about; may be empty.")


class Problem(Part):
    """The shape of every error."""

    error: Said


class Listed(Part, Generic[Item]):
    """Part of a long list."""

    items: list[Item]
    total: int = Field(description="How many there are altogether.")


class StudentSent(Part):
    """A student as a coach types it; units stand in the text."""

    name: str = Field(description="Name or nickname, 1 to 120 characters.")
    hand: Literal["", "right", "left"] = Field("", description="Empty: told from the pictures.")
    height: str = Field(description="With its unit: 178 cm, 5 ft 10 in.")
    sex: Literal["unspecified", "woman", "man"] = Field(
        "unspecified", description="Which tables of body lengths are used."
    )
    weight: str = Field("", description="With its unit: 76 kg, 168 lb.")
    shoe: str = Field("", description="Size with its system: EU 43, UK 9, US men 10, 28 cm.")
    tape: dict[str, str] = Field({}, description="Tape measures by name, with their units.")
    limits: dict[str, str] = Field({}, description="What caps a plan, in degrees, by name.")
    careful_with: tuple[str, ...] = Field((), description="What drills must spare: back, hip …")
    units: Literal["cm", "in"] = Field("cm", description="What pages are written in.")
    injuries: str = Field("", description="Old injuries and pains; shown with every plan.")
    note: str = Field("", description="The coach's own.")
    minor: bool = Field(default=False, description="Pictures need a guardian's word.")
    guardian: str = Field("", description="Who answers for a minor.")
    contact: str = Field("", description="How the guardian is reached.")
    allowed_on: str = Field("", description="Day on which pictures were allowed: 2026-11-25.")


class StudentChanged(StudentSent):
    """A student with the version it was read with."""

    version: Version


class StudentKept(StudentChanged):
    """A student of the book."""

    id: Id
    created_at: Moment
    changed_at: Moment


class ClubPart(Part):
    """A club of a bag; what was not measured is typical of the name."""

    name: str = Field(description="7-iron, driver, sand wedge and so on.")
    length_m: float | None = Field(None, description="Length in metres.")
    lie_deg: float | None = Field(None, description="Lie in degrees.")
    head_length_m: float | None = Field(None, description="Heel to toe, in metres.")
    note: str = ""


class BagChanged(Part):
    """All clubs of a student, in the order of the bag."""

    version: Version
    clubs: list[ClubPart]


class BagKept(BagChanged):
    """A bag of the book; version 0 while none was kept."""

    student: Id


class HomeworkPart(Part):
    """One exercise to do at home."""

    words: str = Field(description="What to do.")
    dose: str = Field("", description="How often and how long.")
    drill: str = Field("", description="Id of a drill, or empty.")
    state: Literal["given", "done", "partly", "not done"] = "given"
    due: str | None = Field(None, description="Day: 2026-12-09.")


class LessonSent(Part):
    """A new lesson."""

    student: Id
    starts_at: str = Field("", description="UTC moment; empty for now.")
    focus: str = Field("", description="What is worked on.")


class LessonChanged(Part):
    """What is written into a lesson, with the version it was read with."""

    version: Version
    focus: str = ""
    note: str = Field("", description="The coach's own; links don't show it.")
    for_student: str = Field("", description="Words to the student; sheet and links show them.")
    homework: list[HomeworkPart] = []
    looked_at: bool = Field(default=True, description="False: it awaits a look.")
    starts_at: str = Field("", description="UTC moment; empty to leave it.")


class LessonKept(LessonChanged):
    """A lesson of the book."""

    id: Id
    student: Id
    starts_at: Moment
    created_at: Moment
    changed_at: Moment


class PictureSent(Part):
    """A picture or clip that was sent."""

    media: str = Field(description="SHA-256 of its bytes.", pattern="^[0-9a-f]{64}$")
    name: str = Field("picture", description="What the file was called.")
    kind: str = Field("", description="Media type; told from the bytes.")


class PictureKept(PictureSent):
    """A picture or clip of a set-up."""

    original: str = Field(description="Where it lies as it came.")
    upright: str = Field(description="Where it lies upright; empty before it was looked at.")


class PlateSent(Part):
    """A pressure plate's file that was sent."""

    media: str = Field(description="SHA-256 of its bytes.", pattern="^[0-9a-f]{64}$")
    name: str = Field("plate.csv", description="What the file was called.", max_length=255)


class MomentWanted(Part):
    """Which set-up of a clip."""

    start_s: float | None = Field(
        None, ge=0, le=86_400, description="The first one that still stands after this second."
    )
    swing: int | None = Field(None, ge=1, description="That of this number, counted from 1.")


class HowTakenPart(Part):
    """What is said of a set-up besides club and shot."""

    phone_level: bool = Field(
        default=False, description="The phone stood level and upright in every picture."
    )
    sheet_aimed: bool = Field(
        default=False, description="The marker sheet was pointed at the target with care."
    )
    ignore: list[Literal["stick", "upright", "sheet"]] = Field(
        [], description="Things on the ground to leave out."
    )
    clips: dict[ViewName, MomentWanted] = Field({}, description="Which set-up of each clip.")
    club_length_m: float | None = Field(None, description="In metres; as in the bag if null.")
    lie_deg: float | None = Field(None, description="In degrees; as in the bag if null.")
    plate: PlateSent | None = Field(None, description="A file sent to /api/plates before.")


class SetUpSent(Part):
    """A new set-up: one or two pictures or clips that were sent before."""

    club: str = Field(description="Name, as in the bag.")
    shot: str = Field("", description="Kind of shot; empty to follow from the club.")
    pictures: dict[ViewName, PictureSent] = Field(description="At least one.", min_length=1)
    how: HowTakenPart | None = Field(None, description="How it was taken; nothing is said if null.")


class SetUpKept(Part):
    """A set-up of the book."""

    id: Id
    lesson: Id
    student: Id
    version: Version
    taken_at: Moment
    club: str
    shot: str
    pictures: dict[ViewName, PictureKept]
    how: HowTakenPart
    state: Literal["waiting", "assessed", "refused"]
    refusal: str = Field(description="Why it could not be assessed.")
    standards: str = Field(description="Digest of the standards it was judged by.")
    assessed_at: str | None
    first_change: str = Field(description="Measure to change first, or empty.")
    inside: int = Field(description="Checks that are inside their windows.")
    outside: int = Field(description="Checks that are outside.")
    undecided: int = Field(description="Checks that the pictures leave open.")


class LandmarksChanged(Part):
    """Moved points, with the version of the set-up they were read with."""

    version: Version
    landmarks: dict[str, object] = Field(description="A landmark file, wellset.landmarks/1.")


class JobKept(Part):
    """A piece of background work."""

    id: Id
    kind: str
    subject: str = Field(description="Id of the set-up it works on.")
    state: Literal["waiting", "running", "done", "failed", "stopped"]
    step: str = Field(description="What is being done.")
    share: float = Field(description="How much of it is done, 0 to 1.")
    problem: str = Field(description="Why it failed.")
    tries: int = Field(description="How often it was begun.")
    created_at: Moment
    changed_at: Moment


class SetUpTaken(Part):
    """A new set-up and the work on it."""

    setup: SetUpKept
    job: JobKept


class PlanSent(Part):
    """What a plan is worked out from, beside student, bag and standards."""

    slopes: list[str] = Field([], description="As a coach says them: uphill 6.", max_length=4)
    wind: str = Field("none", description="none, against or with.", max_length=40)


class DrillSent(Part):
    """A drill as it is written."""

    entry: dict[str, object] = Field(description="Fields of a drill of wellset.drills/1.")


class DrillHidden(Part):
    """Whether a drill is offered."""

    hidden: bool


class DrillKept(DrillSent):
    """A drill of the book."""

    id: Id
    origin: Literal["house", "edited", "own"] = Field(description="Whose it is.")
    hidden: bool = Field(description="Whether it is offered no longer.")


class LinkSent(Part):
    """A new link to a lesson."""

    days: int = Field(30, ge=1, le=365, description="How long it holds.")


class LinkKept(Part):
    """A link to a lesson; its secret is told once, when it is made."""

    id: Id
    created_at: Moment
    expires_at: Moment
    holds: bool = Field(description="Whether it still shows something.")
    address: str = Field("", description="The link; empty but in the answer that made it.")
