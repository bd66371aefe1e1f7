"""Other people in a golfer's picture, and the picture without them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import frozen

from wellset.vision.crops import Box
from wellset.vision.facing import facing_of
from wellset.vision.general import Body, GeneralModel
from wellset.vision.golfer import AT_REST, MOST_LOOKS, SURE, Golfer, mean_apart, meet
from wellset.vision.network import LandmarkNetwork
from wellset.vision.person import (
    detection_from,
    is_as_tall,
    is_person,
    others,
    read_body,
    without,
)
from wellset.vision.values import Pixels


@frozen(kw_only=True, eq=False)
class Company:
    """Who else is in a picture.

    Parameters
    ----------
    rivals : tuple of Golfer
        People of similar size, looked at as golfers.
    people : tuple of Body
        Everybody who surely is a person, the smaller ones too.
    """

    rivals: tuple[Golfer, ...]
    people: tuple[Body, ...]


def company(
    picture: Pixels, *, golfer: Golfer, model: GeneralModel, network: LandmarkNetwork
) -> Company:
    """Other people in the picture; those of similar size are looked at as golfers."""
    found, alone = others(picture, golfer=golfer.body, model=model)
    met = [
        meet(
            alone,
            body=body,
            model=model,
            network=network,
            looks=MOST_LOOKS if is_person(body) else 1,
        )
        for body in found
        if is_as_tall(body, as_who=golfer.body)
    ]
    return Company(
        rivals=tuple(each for each in met if each.seen.doubt <= SURE or is_person(each.body)),
        people=tuple(body for body in found if is_person(body) and not facing_of(body).is_lying),
    )


def freed(
    picture: Pixels,
    *,
    golfer: Golfer,
    people: Sequence[Body],
    model: GeneralModel,
    network: LandmarkNetwork,
) -> tuple[Golfer, Pixels]:
    """The golfer seen anew with people who stand near painted over, and that picture.

    The landmark network expects one person. With a second one in its cut-out it may place
    points somewhere between the two, and be sure of them; the general model suffers less.
    Painting over can also harm (what looked like a person may be a shadow by the club), so
    the new look counts only where it brings the two models together.
    """
    cutout = golfer.seen.cutout
    corners = np.array([[0.0, 0.0], [cutout.size, 0.0], [0.0, cutout.size], [cutout.size] * 2])
    around = Box.around(cutout.to_picture(corners))
    near = [body for body in people if around.overlap(Box.around(body.points_px)) > 0.0]
    if not near:
        return golfer, picture
    cleared = picture
    for body in near:
        cleared = without(cleared, body=body, but=golfer.body)
    body = read_body(cleared, model=model, detection=detection_from(golfer.body.points_px))
    anew = meet(cleared, body=body, model=model, network=network)
    helped = anew.seen.unrest <= max(golfer.seen.unrest, AT_REST) and mean_apart(anew) < mean_apart(
        golfer
    )
    return (anew, cleared) if helped else (golfer, picture)
