"""A set of sheets: all files or none, in a new or an empty folder, under safe names."""

import os
import subprocess
import sys

import pytest

from leverwright.make import Choices, MakeError, make_all, sheet
from leverwright.make.folder import write_set
from leverwright.study import Study
from tests.make.vehicle_samples import flat, space

FILES = {"a.pdf": b"one", "b.dxf": b"two"}


def test_a_new_folder_gets_every_sheet_and_each_part_as_its_own_file(tmp_path):
    made = make_all(Study(space()), tmp_path / "sheets", "A4", Choices(hole=0.01))
    names = sorted(path.name for path in (tmp_path / "sheets").iterdir())
    assert sorted(path.name for path in made) == names
    assert names == [
        "beam-axle-cart-invented-cardboard-trial.pdf",
        "beam-axle-cart-invented-drilling-card.pdf",
        "beam-axle-cart-invented-measuring-cards.pdf",
        "beam-axle-cart-invented-part-01-rocker-left.dxf",
        "beam-axle-cart-invented-part-01-rocker-left.svg",
        "beam-axle-cart-invented-part-02-link-left.dxf",
        "beam-axle-cart-invented-part-02-link-left.svg",
        "beam-axle-cart-invented-part-03-arm-left.dxf",
        "beam-axle-cart-invented-part-03-arm-left.svg",
        "beam-axle-cart-invented-part-04-arm-top.dxf",
        "beam-axle-cart-invented-part-04-arm-top.svg",
        "beam-axle-cart-invented-parts.dxf",
        "beam-axle-cart-invented-parts.svg",
        "beam-axle-cart-invented-set-up-card.pdf",
        "beam-axle-cart-invented-templates.pdf",
    ]
    templates = (tmp_path / "sheets" / "beam-axle-cart-invented-templates.pdf").read_bytes()
    assert templates == sheet(Study(space()), "templates", "A4", Choices(hole=0.01))


def test_names_from_the_file_never_lead_out_of_the_folder(tmp_path):
    title = 'title = "../../outside\\\\..\\u0000/etc"'
    project = flat(old='title = "Side of a cart (invented)"', new=title.replace("\\u0000", ""))
    inside = tmp_path / "deep" / "sheets"
    inside.mkdir(parents=True)
    made = make_all(Study(project), inside)
    assert all(path.parent == inside for path in made)
    assert [path.name for path in tmp_path.iterdir()] == ["deep"]
    assert [path.name for path in (tmp_path / "deep").iterdir()] == ["sheets"]


def test_an_empty_folder_is_used_and_a_full_one_refused(tmp_path):
    write_set(tmp_path, FILES)
    assert (tmp_path / "a.pdf").read_bytes() == b"one"
    with pytest.raises(MakeError, match="is not empty"):
        write_set(tmp_path, {"a.pdf": b"other"})
    assert (tmp_path / "a.pdf").read_bytes() == b"one"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.pdf", "b.dxf"]


def test_a_file_a_dead_link_or_no_parent_is_refused(tmp_path):
    (tmp_path / "file").write_text("mine")
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for name, found in (("file", "is not a folder"), ("link", "is not a folder"), ("no/where", "no folder")):
        with pytest.raises(MakeError, match=found):
            write_set(tmp_path / name, FILES)
    assert (tmp_path / "file").read_text() == "mine"


@pytest.mark.parametrize("empty_folder", [True, False])
def test_a_full_disk_leaves_nothing_behind(tmp_path, monkeypatch, empty_folder):
    target = tmp_path / "sheets"
    if empty_folder:
        target.mkdir()
    calls = []

    def full(descriptor):
        calls.append(descriptor)
        if len(calls) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(MakeError, match="No space left on device"):
        write_set(target, FILES)
    left = [path for path in tmp_path.rglob("*") if path != target]
    assert left == []
    assert target.exists() is empty_folder


def test_a_move_that_fails_takes_back_what_was_moved(tmp_path, monkeypatch):
    from pathlib import Path

    rename, moved = Path.rename, []

    def second_fails(self, target):
        moved.append(target)
        if len(moved) == 2:
            raise OSError(5, "Input/output error")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", second_fails)
    with pytest.raises(MakeError, match="Input/output error"):
        write_set(tmp_path, FILES)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("kind", "start"), [("templates", b"%PDF"), ("card", b"%PDF"), ("dxf", b"  0"), ("svg", b"<?xml")]
)
def test_every_kind_of_sheet_comes_as_bytes(kind, start):
    assert sheet(Study(flat()), kind, "Letter").startswith(start)


@pytest.mark.parametrize(
    ("kind", "paper", "found"), [("book", "A4", "sheet 'book'"), ("card", "A5", "paper 'A5'")]
)
def test_an_unknown_sheet_or_paper_is_refused(kind, paper, found):
    with pytest.raises(MakeError, match=found):
        sheet(Study(flat()), kind, paper)


def test_the_heavy_libraries_are_not_loaded_before_a_sheet_is_made():
    code = "import sys, leverwright.make; print([m for m in ('reportlab', 'ezdxf', 'font_roboto') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
