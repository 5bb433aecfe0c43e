"""Rules of the house's style that ruff does not know: sizes, public names, units in names, what is tracked."""

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "leverwright"

MODULE_LINES = 500
BODY_LINES = 60
PARAMETERS = 5

# Layers that speak in other units than SI: the file's, the reader's.
SURFACE = {"quantity", "project", "wire", "cli"}
UNIT_IN_NAME = re.compile(
    r"[a-z0-9]_(mm|cm|ft|g|kg|lb|lbs|lbf|kgf|kn|n|n_mm|n_per_mm|n_m|deg|degrees|hz|percent|kmh|mph|ms)$"
)
UNIT_BEFORE_ANOTHER_WORD = re.compile(r"(^|_)(mm|deg|lbf)_")


def _modules() -> list[Path]:
    return sorted(SOURCE.rglob("*.py"))


def _said(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def _functions(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def _bound_names(tree: ast.Module) -> Iterator[tuple[str, int]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id, node.lineno
        elif isinstance(node, ast.arg):
            yield node.arg, node.lineno
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.name, node.lineno


def _tracked() -> list[str]:
    if not (ROOT / ".git").exists():
        pytest.skip("not a clone: nothing is tracked here")
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True)
    return [name for name in listed.stdout.split("\0") if name]


def test_there_are_modules_to_look_at() -> None:
    assert len(_modules()) > 10


@pytest.mark.parametrize("path", _modules(), ids=_said)
def test_module_lists_its_public_names(path: Path) -> None:
    targets = [
        target.id
        for node in _tree(path).body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    ]
    assert path.name == "__main__.py" or "__all__" in targets, f"{_said(path)} has no __all__"


@pytest.mark.parametrize("path", _modules(), ids=_said)
def test_module_is_at_most_500_lines(path: Path) -> None:
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= MODULE_LINES, f"{_said(path)} has {lines} lines"


@pytest.mark.parametrize("path", _modules(), ids=_said)
def test_function_bodies_are_at_most_60_lines(path: Path) -> None:
    long = []
    for function in _functions(_tree(path)):
        body = function.body[1:] if ast.get_docstring(function) is not None else function.body
        lines = (function.end_lineno or 0) - body[0].lineno + 1 if body else 0
        if lines > BODY_LINES:
            long.append(f"{_said(path)}:{function.lineno} {function.name} has {lines} lines")
    assert not long, "\n".join(long)


@pytest.mark.parametrize("path", _modules(), ids=_said)
def test_functions_have_at_most_five_parameters(path: Path) -> None:
    many = []
    for function in _functions(_tree(path)):
        given = function.args
        names = [arg.arg for arg in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
        count = len([name for name in names if name not in ("self", "cls")])
        if count > PARAMETERS:
            many.append(f"{_said(path)}:{function.lineno} {function.name} has {count} parameters")
    assert not many, "\n".join(many)


def _is_surface(path: Path) -> bool:
    return path.relative_to(SOURCE).parts[0] in SURFACE


@pytest.mark.parametrize("path", [path for path in _modules() if not _is_surface(path)], ids=_said)
def test_inner_layers_name_no_unit_but_si(path: Path) -> None:
    """Bare numbers are SI inside; a name like `rate_n_mm` belongs to the layers that speak other units."""
    strays = [
        f"{_said(path)}:{line} {name}"
        for name, line in _bound_names(_tree(path))
        if not name.isupper()  # a factor such as MM = 1e-3 is no quantity
        and (UNIT_IN_NAME.search(name.lower()) or UNIT_BEFORE_ANOTHER_WORD.search(name.lower()))
    ]
    assert not strays, "\n".join(strays)


@pytest.mark.parametrize(
    ("name", "stray"), [("rate_n_mm", True), ("angle_deg", True), ("rate", False), ("column", False)]
)
def test_the_unit_pattern_finds_units_and_leaves_words(name: str, stray: bool) -> None:
    assert bool(UNIT_IN_NAME.search(name)) is stray


BUILT = re.compile(
    r"(^|/)(node_modules|dist|build|__pycache__|_build|static)/|\.(whl|pyc|pyd|so|dylib|dll|exe|o|tsbuildinfo|egg)$"
    r"|(^|/)(uv\.lock|pylock[^/]*\.toml|yarn\.lock|pnpm-lock\.yaml)$|\.min\.(js|css)$"
)


def test_nothing_built_is_tracked() -> None:
    assert [name for name in _tracked() if BUILT.search(name)] == []


# Spelt in halves, so that this file passes its own rule.
REGISTRY_HOSTS = (
    "py" + "pi.org",
    "python" + "hosted.org",
    "registry." + "npmjs",
    "npmjs" + ".org",
    "deb.deb" + "ian.org",
)
MACHINE_PATHS = re.compile("(?<![A-Za-z0-9._/-])/(" + "wo" + "rk|ro" + "ot|home/[a-z]+)/")
TEXT_TOO_LARGE = 2_000_000  # bytes; no text of ours comes near, pictures are left out by their null bytes


def _tracked_texts() -> Iterator[tuple[str, str]]:
    for name in _tracked():
        path = ROOT / name
        if not path.is_file() or path.stat().st_size > TEXT_TOO_LARGE:
            continue
        raw = path.read_bytes()
        if b"\0" not in raw[:8000]:
            yield name, raw.decode("utf-8", errors="replace")


def test_no_tracked_file_names_a_registry_host() -> None:
    found = [(name, host) for name, text in _tracked_texts() for host in REGISTRY_HOSTS if host in text]
    assert found == []


def test_no_tracked_file_names_a_path_of_one_machine() -> None:
    found = [
        (name, match.group()) for name, text in _tracked_texts() if (match := MACHINE_PATHS.search(text))
    ]
    assert found == []
