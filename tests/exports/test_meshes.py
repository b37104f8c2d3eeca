"""STL, 3MF and glTF read back by others: closed bodies of the same volumes, named, and in the right units."""

import json
import zipfile
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh

from storystick.exports.lying import bodies
from tests.exports.pieces import ALL, files, piece

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
CLOSE = 2e-5  # single precision of corners, as a share of the volume


def whole(of: str) -> float:
    return sum(solid.volume for solid in piece(of).scene.parts.values())


@pytest.mark.parametrize("of", ALL)
def test_stl_of_every_part_is_closed_and_has_its_volume(of: str):
    first, *parts = files(of, "stl")
    for file, body in zip(parts, bodies(piece(of).scene), strict=True):
        read = trimesh.load(BytesIO(file.content), file_type="stl")
        assert read.is_watertight, file.name
        assert read.volume == pytest.approx(body.solid.volume, rel=CLOSE)
        assert file.name.startswith(f"{body.letter}-")
        assert read.bounds[1] == pytest.approx([float(d) for d in body.parts[0].size], abs=1e-3)
    read = trimesh.load(BytesIO(first.content), file_type="stl")
    assert read.volume == pytest.approx(whole(of), rel=CLOSE)


@pytest.mark.parametrize("of", ALL)
def test_gltf_has_a_node_for_every_part_in_metres_and_upright(of: str):
    (file,) = files(of, "gltf")
    scene = trimesh.load(BytesIO(file.content), file_type="glb")
    build, solids = piece(of).build, piece(of).scene.parts
    for part in build.parts:
        turn, mesh = scene.graph[f"{part.letter} {part.name}"]
        assert np.linalg.det(turn[:3, :3]) == pytest.approx(1)
        one = scene.geometry[mesh].copy()
        one.merge_vertices(merge_norm=True, merge_tex=True)
        assert one.volume * 1e9 == pytest.approx(solids[part.name].volume, rel=CLOSE)
        one.apply_transform(turn)
        (x0, y0, z0), (x1, y1, z1) = solids[part.name].bounds
        assert one.bounds * 1000 == pytest.approx(np.array([(x0, z0, -y1), (x1, z1, -y0)]), abs=2e-3)


def test_gltf_keeps_the_rules_of_its_container():
    """Khronos glTF 2.0, 3.6.2.4 (views on whole words), 4.4 (chunks on whole words), 3.6.2.5 (bounds of places)."""
    (file,) = files("lathe-cabinet", "gltf")
    words = file.content
    assert words[:4] == b"glTF"
    assert int.from_bytes(words[8:12], "little") == len(words)
    long = int.from_bytes(words[12:16], "little")
    told, rest = json.loads(words[20 : 20 + long]), words[20 + long :]
    numbers = rest[8:]
    assert long % 4 == len(numbers) % 4 == 0
    assert rest[4:8] == b"BIN\0"
    assert told["buffers"][0]["byteLength"] <= len(numbers)
    for accessor in told["accessors"]:
        view = told["bufferViews"][accessor["bufferView"]]
        assert view["byteOffset"] % 4 == 0
        assert view["byteLength"] == 12 * accessor["count"]
        values = np.frombuffer(numbers, "<f4", 3 * accessor["count"], view["byteOffset"]).reshape(-1, 3)
        if "min" in accessor:
            assert values.min(axis=0).tolist() == accessor["min"]
            assert values.max(axis=0).tolist() == accessor["max"]
        else:
            assert np.linalg.norm(values, axis=1) == pytest.approx(1, abs=1e-5)
    assert {node["extras"]["letter"] for node in told["nodes"][1:]} == {
        p.letter for p in piece("lathe-cabinet").build.parts
    }


@pytest.mark.parametrize("of", ALL)
def test_3mf_has_an_object_for_every_part_closed_and_where_it_stands(of: str):
    (file,) = files(of, "3mf")
    box = zipfile.ZipFile(BytesIO(file.content))
    assert box.testzip() is None
    root = ElementTree.fromstring(box.read("3D/3dmodel.model"))
    assert root.attrib["unit"] == "millimeter"
    objects = {one.attrib["id"]: one for one in root.iter(f"{CORE}object")}
    items = [objects[item.attrib["objectid"]] for item in root.iter(f"{CORE}item")]
    parts, solids = piece(of).build.parts, piece(of).scene.parts
    assert sorted(one.attrib["name"] for one in items) == sorted(f"{part.letter} {part.name}" for part in parts)
    for one in items:
        (component,) = one.iter(f"{CORE}component")
        name = one.attrib["name"].removeprefix(one.attrib["partnumber"] + " ")
        mesh = mesh_of(objects[component.attrib["objectid"]])
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(solids[name].volume, rel=1e-6)
        rows = np.array([float(word) for word in component.attrib["transform"].split()]).reshape(4, 3)
        stands = mesh.vertices @ rows[:3] + rows[3]
        assert np.array([stands.min(axis=0), stands.max(axis=0)]) == pytest.approx(
            np.array(solids[name].bounds), abs=1e-4
        )


def mesh_of(one: ElementTree.Element) -> trimesh.Trimesh:
    vertices = [[float(v.attrib[k]) for k in "xyz"] for v in one.iter(f"{CORE}vertex")]
    triangles = [[int(t.attrib[k]) for k in ("v1", "v2", "v3")] for t in one.iter(f"{CORE}triangle")]
    return trimesh.Trimesh(vertices, triangles, process=False)


def test_3mf_is_read_by_the_consortiums_own_library():
    lib3mf = pytest.importorskip("lib3mf", reason="lib3mf is not installed, so 3MF is judged by our own reading alone")
    wrapper = lib3mf.Wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(files("lathe-cabinet", "3mf")[0].content)
    assert reader.GetWarningCount() == 0
