"""How does a solid get into other people's viewers: binary glTF 2.0, written by ourselves.

    mesh  : Mesh("west B1", points, triangles, colour=(0.85, 0.72, 0.5), at=(0.3, 0, 0))
    group : Group("west", (mesh, ...), at=(7.4, 6.7, 30.1), turn=1.57)      a thing in its own axes, and where it stands
    glb("Orchard gate", [group, ...])               bytes of a .glb; a node for each group, below it one for each mesh

Points are metres with z up, as everywhere in the house; a glTF has y up, so they are turned here. A mesh's `at` moves
it as it is shown: set all of a group to nothing and the thing stands assembled. Faces are flat: corners are not shared.
The format's numbers have seven digits, so meshes stay near their group's origin.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin
from typing import Any

import numpy as np
from numpy.typing import NDArray

_FLOAT, _VERTICES = 5126, 34962
_JSON, _BIN = 0x4E4F534A, 0x004E4942


@dataclass(frozen=True, eq=False)
class Mesh:
    name: str
    points: NDArray[np.float64]  # (n, 3) [m], z up
    triangles: NDArray[np.intp]  # (m, 3), counter-clockwise from outside
    colour: tuple[float, float, float]  # red, green, blue, 0 to 1, linear
    at: tuple[float, float, float] = (0.0, 0.0, 0.0)
    clear: bool = False  # seen through


@dataclass(frozen=True, eq=False)
class Group:
    name: str
    meshes: Sequence[Mesh]
    at: tuple[float, float, float] = (0.0, 0.0, 0.0)
    turn: float = 0.0  # [rad] about the upright, counter-clockwise from above


def glb(title: str, groups: Sequence[Group]) -> bytes:
    """A scene in binary glTF. Raises ValueError where there is nothing to show."""
    blob = bytearray()
    made: dict[str, list[Any]] = {"nodes": [], "meshes": [], "accessors": [], "bufferViews": [], "materials": []}
    looks: dict[tuple[Any, ...], int] = {}
    roots = []
    for group in groups:
        children = []
        for mesh in group.meshes:
            if not len(mesh.triangles):
                continue
            material = looks.setdefault((mesh.colour, mesh.clear), len(looks))
            children.append(len(made["nodes"]))
            made["nodes"].append({"name": mesh.name, "mesh": len(made["meshes"]), "translation": _up(mesh.at)})
            made["meshes"].append({"name": mesh.name, "primitives": [_primitive(mesh, material, made, blob)]})
        if children:
            roots.append(len(made["nodes"]))
            turned = [0.0, sin(group.turn / 2), 0.0, cos(group.turn / 2)]
            made["nodes"].append(
                {"name": group.name, "children": children, "translation": _up(group.at), "rotation": turned}
            )
    if not roots:
        raise ValueError("there is nothing to show")
    made["materials"] = [_material(colour, clear) for colour, clear in looks]
    scene = {
        "asset": {"version": "2.0", "generator": "Batterboard"},
        "scene": 0,
        "scenes": [{"name": title, "nodes": roots}],
        **made,
        "buffers": [{"byteLength": len(blob)}],
    }
    words = _filled(json.dumps(scene, ensure_ascii=False, separators=(",", ":")).encode(), b" ")
    body = _filled(bytes(blob), b"\0")
    chunks = b"".join(_word(len(part)) + _word(kind) + part for kind, part in ((_JSON, words), (_BIN, body)))
    return b"glTF" + _word(2) + _word(12 + len(chunks)) + chunks


def _primitive(mesh: Mesh, material: int, made: dict[str, list[Any]], blob: bytearray) -> dict[str, Any]:
    corners = mesh.points[mesh.triangles].astype(np.float64)  # (m, 3 corners, 3)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    flat = np.repeat(normals, 3, axis=0)
    where = _stored(_turned(corners.reshape(-1, 3)), made, blob, bounds=True)
    facing = _stored(_turned(flat), made, blob)
    return {"attributes": {"POSITION": where, "NORMAL": facing}, "material": material, "mode": 4}


def _stored(rows: NDArray[np.float64], made: dict[str, list[Any]], blob: bytearray, bounds: bool = False) -> int:
    """The accessor of these vectors."""
    data = rows.astype("<f4")
    made["bufferViews"].append({"buffer": 0, "byteOffset": len(blob), "byteLength": data.nbytes, "target": _VERTICES})
    blob += data.tobytes()
    accessor = {
        "bufferView": len(made["bufferViews"]) - 1, "componentType": _FLOAT, "count": len(data), "type": "VEC3",
    }  # fmt: skip
    if bounds:
        accessor |= {"min": data.min(axis=0).tolist(), "max": data.max(axis=0).tolist()}
    made["accessors"].append(accessor)
    return len(made["accessors"]) - 1


def _material(colour: tuple[float, float, float], clear: bool) -> dict[str, Any]:
    surface = {"baseColorFactor": [*colour, 0.35 if clear else 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.9}
    return {"pbrMetallicRoughness": surface, **({"alphaMode": "BLEND"} if clear else {})}


def _turned(rows: NDArray[np.float64]) -> NDArray[np.float64]:
    """From z up to y up."""
    return np.column_stack([rows[:, 0], rows[:, 2], -rows[:, 1]])


def _up(at: tuple[float, float, float]) -> list[float]:
    return [float(at[0]), float(at[2]), -float(at[1])]


def _word(number: int) -> bytes:
    return number.to_bytes(4, "little")


def _filled(part: bytes, with_: bytes) -> bytes:
    return part + with_ * (-len(part) % 4)
