"""The open body model ``anny``, reduced to what clothing and posing need.

The only module that needs ``anny`` and ``torch``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from attrs import field, frozen
from PIL import Image
from scipy.sparse import csr_matrix

from training.bodies.phenotypes import Phenotype
from training.bodies.store import MARKS, VERTICES_PER_METRE, Array, Bodies, Indices, Rig

SKIN_VERTICES = 13380
"""In the model's mesh the skin comes first, then eyeballs and helpers."""

HEIGHT_TOLERANCE_M = 5e-4


@frozen(kw_only=True, eq=False)
class BodyModel:
    """The model with its fixed parts read out.

    Parameters
    ----------
    anny : object
        The model itself.
    rig : Rig
    kept : (V,) int array
        The vertices of the model's mesh that are kept, in the rig's order.
    """

    anny: Any = field(repr=False)
    rig: Rig = field(repr=False)
    kept: Indices = field(repr=False)

    def rest(self, phenotype: Phenotype) -> tuple[Array, Array]:
        """(V, 3) vertices and (J, 3) bone heads of a body of the wanted height.

        The model has a dial for height, not a height: bisected until they agree within
        `HEIGHT_TOLERANCE_M`. A height that the model can't reach with these dials gives
        the nearest body, scaled to it.
        """
        low, high = 0.0, 1.0
        vertices, heads, height = self._rest(phenotype, dial=0.5)
        while high - low > 1e-4 and abs(height - phenotype.height_m) > HEIGHT_TOLERANCE_M:
            dial = (low + high) / 2
            vertices, heads, height = self._rest(phenotype, dial=dial)
            low, high = (dial, high) if height < phenotype.height_m else (low, dial)
        scale = phenotype.height_m / height
        return vertices * scale, heads * scale

    def _rest(self, phenotype: Phenotype, *, dial: float) -> tuple[Array, Array, float]:
        dials = dict(phenotype.dials, height=dial)
        out = self.anny(pose_parameters=None, phenotype_kwargs=dials)
        vertices = out["rest_vertices"][0].numpy()[self.kept]
        height = float(np.ptp(vertices[:SKIN_VERTICES, 2]))
        return vertices, out["rest_bone_heads"][0].numpy(), height


def load_model() -> BodyModel:
    """Load the body model.

    Raises
    ------
    ImportError
        When ``anny`` or ``torch`` is missing.
    """
    import anny  # noqa: PLC0415 - optional and slow
    import torch  # noqa: PLC0415
    from anny.models.model_data import TopologyConfig  # noqa: PLC0415

    torch.set_num_threads(1)
    topology = TopologyConfig(
        "makehuman",
        nudity_edits=True,
        remove_unattached_vertices=False,
        triangulate_faces=True,
        eyes=True,
        tongue=False,
    )
    model = anny.Anny(topology=topology, phenotypes="all").to(dtype=torch.float64)
    data = Path(anny.__file__).parent / "data" / "mpfb2"
    faces = model.faces.numpy()
    is_skin = (faces < SKIN_VERTICES).all(1)
    hair = _faces_of_group(data / "3dobjs" / "base.obj", group="helper-hair")
    eyes = faces[~is_skin]
    kept = np.concatenate([np.arange(SKIN_VERTICES), np.unique(eyes), np.unique(hair)])
    renumber = np.full(kept.max() + 1, -1)
    renumber[kept] = np.arange(len(kept))
    rig = Rig(
        bones=tuple(model.bone_labels),
        parents=tuple(model.bone_parents),
        weights=_weights(model)[kept],
        skin=renumber[faces[is_skin]],
        eyes=renumber[eyes],
        hair=renumber[hair],
        marks={k: v[is_skin] for k, v in _marks(model, data / "textures").items()},
    )
    return BodyModel(anny=model, rig=rig, kept=kept)


def _weights(model: Any) -> csr_matrix:  # noqa: ANN401 - anny ships no types
    indices, weights = model.vertex_bone_indices.numpy(), model.vertex_bone_weights.numpy()
    rows = np.repeat(np.arange(len(indices)), indices.shape[1])
    shape = (len(indices), model.bone_count)
    matrix = csr_matrix((weights.ravel(), (rows, indices.ravel())), shape=shape)
    matrix.eliminate_zeros()
    return matrix


def _marks(model: Any, folder: Path) -> dict[str, Array]:  # noqa: ANN401 - likewise
    """Masks painted on the model's texture, read at the middle of each triangle."""
    uv = model.texture_coordinates.numpy()[model.face_texture_coordinate_indices.numpy()].mean(1)
    marks = {}
    for name in MARKS:
        picture = np.asarray(Image.open(folder / f"mpfb_{name}.jpg").convert("L"))
        height, width = picture.shape
        row = np.clip(((1 - uv[:, 1]) * height).astype(int), 0, height - 1)
        column = np.clip((uv[:, 0] * width).astype(int), 0, width - 1)
        marks[name] = picture[row, column] / 255.0
    return marks


def _faces_of_group(path: Path, *, group: str) -> Indices:
    """Polygons of one named group of a Wavefront file, cut into triangles."""
    faces, here = [], False
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("g "):
            here = line.split()[1] == group
        elif here and line.startswith("f "):
            corner = [int(word.split("/")[0]) - 1 for word in line.split()[1:]]
            faces += [(corner[0], corner[k], corner[k + 1]) for k in range(1, len(corner) - 1)]
    return np.array(faces)


def rest_bodies(model: BodyModel, phenotypes: list[Phenotype]) -> Bodies:
    """The rest bodies of some phenotypes, rounded as the file keeps them."""
    rest = [model.rest(phenotype) for phenotype in phenotypes]
    vertices = np.array([v for v, _ in rest])
    return Bodies(
        rig=model.rig,
        vertices=np.round(vertices * VERTICES_PER_METRE).astype(np.int16),
        heads=np.array([h for _, h in rest], dtype=np.float32),
        heights_m=np.ptp(vertices[:, :SKIN_VERTICES, 2], axis=1),
        genders=np.array([p.gender for p in phenotypes]),
        ages=np.array([p.age for p in phenotypes]),
    )
