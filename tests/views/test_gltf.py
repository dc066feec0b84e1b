"""The forms in three dimensions, read back by another program."""

import io
import json
from pathlib import Path

import numpy as np
import pytest

from batterboard.job import read_job
from batterboard.methods import solids
from batterboard.plan import Plan
from batterboard.views import gltf
from batterboard.views.drawings import exploded

GATE = Path(__file__).parents[2] / "examples" / "orchard-gate" / "job.toml"


@pytest.fixture(scope="module")
def gate():
    return Plan(read_job(GATE))


def test_a_box_comes_back_where_it_was_with_its_volume_and_y_up():
    trimesh = pytest.importorskip("trimesh")
    box = solids.prism([0, 2, 2, 0], [0, 0, 1, 1], 0.5, 0.75)
    mesh = gltf.Mesh("box", np.column_stack(box.vertices), box.triangles, (0.5, 0.5, 0.5), at=(0.0, 0.0, 1.0))
    scene = trimesh.load(io.BytesIO(gltf.glb("one", [gltf.Group("all", [mesh])])), file_type="glb")
    assert np.allclose(scene.bounds, [[0, 1.5, -1], [2, 1.75, 0]])
    assert sum(part.volume for part in scene.dump()) == pytest.approx(0.5, rel=1e-6)


def test_a_group_stands_where_its_form_stands(gate):
    trimesh = pytest.importorskip("trimesh")
    body = next(body for body in gate.work.bodies if body.name == "east")
    scene = trimesh.load(io.BytesIO(exploded.model(gate)), file_type="glb")
    transform, _ = scene.graph["east"]
    x, y, z = transform[:3, 3]
    assert (x, -z) == pytest.approx((float(body.frame.x), float(body.frame.y)), abs=1e-6)
    ahead = transform[:3, :3] @ [1, 0, 0]
    assert (ahead[0], -ahead[2]) == pytest.approx((np.cos(body.frame.turn), np.sin(body.frame.turn)), abs=1e-6)


def test_every_panel_and_strip_of_the_gate_is_in_the_model_with_its_volume(gate):
    trimesh = pytest.importorskip("trimesh")
    scene = trimesh.load(io.BytesIO(exploded.model(gate)), file_type="glb")
    for form in gate.pieces.forms:
        for part in exploded.parts(form):
            expected = sum(solid.volume for solid in part.solids)
            assert abs(scene.geometry[part.mark].volume) == pytest.approx(expected, rel=1e-5)


def test_the_file_is_laid_out_as_the_format_asks(gate):
    """Header, chunks of whole words, every accessor inside its view, every view inside the buffer, bounds true."""
    data = exploded.model(gate)
    assert data[:4] == b"glTF" and int.from_bytes(data[4:8], "little") == 2
    assert int.from_bytes(data[8:12], "little") == len(data) and len(data) % 4 == 0
    long = int.from_bytes(data[12:16], "little")
    assert data[16:20] == b"JSON" and long % 4 == 0
    scene, rest = json.loads(data[20 : 20 + long]), data[20 + long :]
    assert rest[4:8] == b"BIN\0" and int.from_bytes(rest[:4], "little") == len(rest) - 8
    blob = rest[8 : 8 + scene["buffers"][0]["byteLength"]]
    for accessor in scene["accessors"]:
        view = scene["bufferViews"][accessor["bufferView"]]
        assert view["byteOffset"] % 4 == 0 and view["byteOffset"] + view["byteLength"] <= len(blob)
        assert accessor["count"] * 12 == view["byteLength"]
        rows = np.frombuffer(blob, "<f4", accessor["count"] * 3, view["byteOffset"]).reshape(-1, 3)
        if "min" in accessor:
            assert rows.min(axis=0).tolist() == accessor["min"] and rows.max(axis=0).tolist() == accessor["max"]
        else:
            assert np.allclose(np.linalg.norm(rows, axis=1), 1, atol=1e-5)
    children = [child for node in scene["nodes"] for child in node.get("children", ())]
    assert sorted([*children, *scene["scenes"][0]["nodes"]]) == list(range(len(scene["nodes"])))


def test_pieces_drawn_apart_do_not_touch_where_they_were_built_together(gate):
    for form in gate.pieces.forms:
        panels = [part for part in exploded.parts(form) if part.kind == "panel"]
        assert len({tuple(np.round(part.away, 6)) for part in panels}) == len(panels)
