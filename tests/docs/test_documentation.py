"""What the documentation shows is what happens: commands, Python, project files, links."""

import re
import tomllib
from pathlib import Path

import pytest

from docs.commands import matches, pages, run_page

ROOT = Path(__file__).resolve().parents[2]
ALL = [
    ROOT / "README.md",
    *sorted(path for path in (ROOT / "docs").rglob("*.md") if "_build" not in path.parts),
]


def _said(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _blocks(path: Path, language: str) -> list[str]:
    fence = re.compile(rf"^```{language}\n(.*?)^```$", re.MULTILINE | re.DOTALL)
    return fence.findall(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("page", pages(), ids=_said)
def test_commands_say_what_the_page_shows(page: Path) -> None:
    for ran in run_page(page):
        assert matches(ran.shown, ran.said), f"$ {ran.command}\nshown:\n{ran.shown}\nsaid:\n{ran.said}"
        assert (ran.status == 2) is ran.command.endswith("# refused"), f"$ {ran.command}\nsaid:\n{ran.said}"


@pytest.mark.parametrize(
    ("shown", "said", "same"),
    [
        ("a\n", "a\n", True),
        ("a\n", "b\n", False),
        ("a\n...\nc\n", "a\nb\nb\nc\n", True),
        ("a\n...\nc\n", "a\nb\n", False),
        ("...\n", "a\n", True),
        ("", "a\n", False),
    ],
)
def test_three_dots_stand_for_any_lines(shown: str, said: str, same: bool) -> None:
    assert matches(shown, said) is same


@pytest.mark.parametrize("page", [page for page in ALL if _blocks(page, "python")], ids=_said)
def test_python_of_the_page_runs(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    for block in _blocks(page, "python"):
        exec(compile(block, str(page), "exec"), names)


@pytest.mark.parametrize("page", [page for page in ALL if _blocks(page, "toml")], ids=_said)
def test_project_files_of_the_page_are_toml(page: Path) -> None:
    for block in _blocks(page, "toml"):
        tomllib.loads(block)


@pytest.mark.parametrize("page", ALL, ids=_said)
def test_links_inside_the_repository_lead_somewhere(page: Path) -> None:
    text = re.sub(r"^```.*?^```$", "", page.read_text(encoding="utf-8"), flags=re.MULTILINE | re.DOTALL)
    targets = re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", text)
    lost = [target for target in targets if "://" not in target and not (page.parent / target).exists()]
    assert lost == []


@pytest.mark.parametrize("heading", ["## Run it", "## Test it"])
def test_readme_has_one_command_each_to_run_and_to_test(heading: str) -> None:
    section = (ROOT / "README.md").read_text(encoding="utf-8").split(heading, 1)[1]
    found = re.search(r"^```sh\n(.*?)^```$", section, re.MULTILINE | re.DOTALL)
    assert found is not None
    assert len(found.group(1).splitlines()) == 1


def test_readme_opens_an_example_that_exists() -> None:
    found = re.search(r"leverwright open (\S+)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert found is not None
    assert (ROOT / found.group(1)).is_file()
