"""Triangles: normals, smoothing, subdivision, and a few solids."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csr_matrix, diags
from scipy.spatial import ConvexHull

from training.bodies.store import Array, Indices
from training.golfers.pool import CLASSES
from training.golfers.turning import cross, unit

Mask = NDArray[np.bool_]
Solid = tuple[Array, Indices]
"""Vertices and triangles."""


@frozen(kw_only=True, eq=False)
class Mesh:
    """Triangles of one thing, with the class and colour of each.

    Parameters
    ----------
    name : str
    vertices : (V, 3) array, metre, world frame
    faces : (F, 3) int array
    classes : (F,) uint8 array, indices into ``pool.CLASSES``
    colours : (F, 3) array
        Multiplied into the class's colour.
    person : bool
        Whether it belongs to the golfer's outline (clothes and hair do, a club doesn't).
    """

    name: str
    vertices: Array = field(repr=False)
    faces: Indices = field(repr=False)
    classes: NDArray[np.uint8] = field(repr=False)
    colours: Array = field(repr=False)
    person: bool = True


def mesh(name: str, shape: Solid, *, of_class: str, shade: float = 1, person: bool = True) -> Mesh:
    """A mesh of one class and one shade."""
    vertices, faces = shape
    return Mesh(
        name=name,
        vertices=vertices,
        faces=faces,
        classes=np.full(len(faces), CLASSES.index(of_class), np.uint8),
        colours=np.full((len(faces), 3), float(shade)),
        person=person,
    )


def vertex_normals(vertices: Array, *, faces: Indices) -> Array:
    """(V, 3) unit normals, by area; zero where no triangle is."""
    a, b, c = vertices[faces[:, 0]], vertices[faces[:, 1]], vertices[faces[:, 2]]
    by_face = np.cross(b - a, c - a)
    total = np.stack(
        [
            np.bincount(faces.ravel(), np.repeat(by_face[:, k], 3), minlength=len(vertices))
            for k in range(3)
        ],
        axis=1,
    )
    return np.asarray(total / (np.linalg.norm(total, axis=1, keepdims=True) + 1e-12))


def compact(faces: Indices) -> tuple[Indices, Indices]:
    """Renumber faces to the vertices they use; returns faces and the old numbers."""
    used, inverse = np.unique(faces, return_inverse=True)
    return inverse.reshape(faces.shape), used


def smoother(faces: Indices, *, count: int) -> csr_matrix:
    """Matrix that replaces each vertex by the mean of its neighbours.

    Vertices on the edge of the cloth follow only their neighbours on the edge.
    """
    i, j = faces[:, [0, 1, 2]].ravel(), faces[:, [1, 2, 0]].ravel()
    both = np.concatenate([i, j]), np.concatenate([j, i])
    A = coo_matrix((np.ones(2 * len(i)), both), shape=(count, count)).tocsr()
    edges = np.sort(np.stack([i, j], axis=1), axis=1)
    once, times = np.unique(edges[:, 0] * count + edges[:, 1], return_counts=True)
    open_edges = np.stack(np.divmod(once[times == 1], count), axis=1)
    A.data[:] = 1
    on_edge = np.zeros(count, bool)
    on_edge[open_edges.ravel()] = True
    ends = np.concatenate([open_edges, open_edges[:, ::-1]]).T
    B = coo_matrix((np.ones(ends.shape[1]), tuple(ends)), shape=(count, count)).tocsr()
    A = diags((~on_edge).astype(float)) @ A + diags(on_edge.astype(float)) @ B
    return csr_matrix(diags(1 / np.maximum(np.asarray(A.sum(1)).ravel(), 1)) @ A)


def subdivided(
    vertices: Array, faces: Indices, *, values: dict[str, Array]
) -> tuple[Array, Indices, dict[str, Array]]:
    """Each triangle cut in four at the middles of its sides; values go along."""
    n = len(vertices)
    sides = np.sort(faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    keys, inverse = np.unique(sides[:, 0] * n + sides[:, 1], return_inverse=True)
    ends = np.stack(np.divmod(keys, n), axis=1)
    middle = n + inverse.reshape(-1, 3)
    corner = [faces[:, k] for k in range(3)]
    a, b, c = middle.T
    cut = np.concatenate(
        [
            np.stack([corner[0], a, c], 1),
            np.stack([a, corner[1], b], 1),
            np.stack([c, b, corner[2]], 1),
            np.stack([a, b, c], 1),
        ]
    )
    grown = np.concatenate([vertices, vertices[ends].mean(1)])
    return grown, cut, {k: np.concatenate([v, v[ends].mean(1)]) for k, v in values.items()}


def triangles(polygons: Sequence[Sequence[int]]) -> Indices:
    """Polygons cut into fans."""
    return np.array([(p[0], p[k], p[k + 1]) for p in polygons for k in range(1, len(p) - 1)])


def rings(points: Array, *, closed: bool = True) -> Indices:
    """Triangles between successive rows of an (R, n, 3) grid of points."""
    rows, n = points.shape[:2]
    i, j = np.meshgrid(np.arange(rows - 1), np.arange(n if closed else n - 1), indexing="ij")
    a, b = (i * n + j).ravel(), (i * n + (j + 1) % n).ravel()
    return np.concatenate([np.stack([a, a + n, b + n], 1), np.stack([a, b + n, b], 1)])


def tube(
    start: Array, end: Array, *, radii: tuple[float, float], sides: int = 12, parts: int = 1
) -> Solid:
    """A round, tapered stick without ends."""
    d = unit(end - start)
    a = unit(cross(d, np.array([0.3, 1, 0.2])))
    b = cross(d, a)
    angle = np.arange(sides) * 2 * np.pi / sides
    circle = np.cos(angle)[:, None] * a + np.sin(angle)[:, None] * b
    t = np.linspace(0, 1, parts + 1)[:, None, None]
    grid = start + t * (end - start) + (radii[0] + t * (radii[1] - radii[0])) * circle
    return grid.reshape(-1, 3), rings(grid)[:, ::-1]


def ellipsoid(
    centre: Array, radii: Array, *, turned: Array | None = None, sides: int = 16, rows: int = 10
) -> Solid:
    """An ellipsoid with its axes along the columns of ``turned``."""
    theta = np.linspace(0, np.pi, rows + 1)[:, None]
    phi = (np.arange(sides) * 2 * np.pi / sides)[None]
    grid = np.stack(
        [
            np.sin(theta) * np.cos(phi),
            np.sin(theta) * np.sin(phi),
            np.cos(theta) * np.ones_like(phi),
        ],
        axis=-1,
    )
    R = np.eye(3) if turned is None else turned
    return (grid.reshape(-1, 3) * radii) @ R.T + centre, rings(grid)


def extruded(outline: Array, *, origin: Array, axes: Array, depth: float) -> Solid:
    """A flat outline, (n, 2) in the first two columns of ``axes``, thickened along the third."""
    flat = origin + outline @ axes[:, :2].T
    n = len(flat)
    vertices = np.concatenate([flat, flat + axes[:, 2] * depth])
    lids = triangles([range(n)[::-1], range(n, 2 * n)])
    return vertices, np.concatenate([rings(vertices.reshape(2, n, 3))[:, ::-1], lids])


def joined(shapes: Sequence[Solid]) -> Solid:
    """Several solids as one."""
    starts = np.cumsum([0, *(len(v) for v, _ in shapes)])
    faces = [f + start for (_, f), start in zip(shapes, starts, strict=False)]
    return np.concatenate([v for v, _ in shapes]), np.concatenate(faces)


def hull(points: Array) -> Solid:
    """The convex hull of points, as outward-facing triangles."""
    found = ConvexHull(points)
    faces = found.simplices.astype(np.int64)
    a, b, c = (points[faces[:, k]] for k in range(3))
    inward = np.einsum("ij,ij->i", np.cross(b - a, c - a), found.equations[:, :3]) < 0
    faces[inward] = faces[inward][:, ::-1]
    faces, used = compact(faces)
    return points[used], faces


def ray_to(origin: Array, direction: Array, *, shape: Solid, reach: float) -> float:
    """How far a ray goes to its last meeting with a surface within reach; 0 if it meets none.

    Möller and Trumbore's test, DOI 10.1080/10867651.1997.10487468, for all triangles.
    """
    vertices, faces = shape
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    e1, e2 = b - a, c - a
    h = np.cross(direction, e2)
    det = np.einsum("ij,ij->i", e1, h)
    ok = np.abs(det) > 1e-12
    inverse = 1 / np.where(ok, det, 1)
    s = origin - a
    u = np.einsum("ij,ij->i", s, h) * inverse
    q = np.cross(s, e1)
    v = q @ direction * inverse
    t = np.einsum("ij,ij->i", e2, q) * inverse
    hit = ok & (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0) & (t < reach)
    return float(t[hit].max()) if hit.any() else 0.0
