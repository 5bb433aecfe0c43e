"""Takes the pictures of the documentation: our own page, in headless Chromium, on an example vehicle.

`python docs/pictures/take.py [NAME …]` in a clone whose page is built. Each picture is a function here and
gives the file its name.
"""

import io
import shutil
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from PIL import Image  # noqa: E402 - the clone comes first on the path
from playwright.sync_api import Page  # noqa: E402 - the clone comes first on the path

from benchmarks.page import open_page  # noqa: E402

__all__ = ["PICTURES", "main"]

HERE = Path(__file__).resolve().parent
RACER = "gravity-racer.toml"
PICTURES: dict[str, Callable[[Page], None]] = {}


def picture(taken: Callable[[Page], None]) -> Callable[[Page], None]:
    """Enter a picture under the function's name."""
    PICTURES[taken.__name__.replace("_", "-")] = taken
    return taken


@picture
def page(page: Page) -> None:
    """The page as it opens."""
    _settled(page)


@picture
def full_bump(page: Page) -> None:
    """The wheel at the end of its travel."""
    page.get_by_role("button", name="Bump", exact=True).click()
    _settled(page)


@picture
def remedy(page: Page) -> None:
    """The second finding's first remedy shown: vehicle and numbers as they would be."""
    page.get_by_role("button", name="Show me").last.wait_for(timeout=30_000)
    finding = page.locator("li").filter(has_text="arms swapped").last
    finding.get_by_role("button", name="Show me").first.click()
    _settled(page)


@picture
def phone(page: Page) -> None:
    """The same page on a telephone."""
    page.set_viewport_size({"width": 390, "height": 844})
    _settled(page)


def _settled(page: Page) -> None:
    """Remedies are computed when the hand is still; wait for them."""
    page.wait_for_timeout(2500)


def main(names: list[str]) -> None:
    """Take the pictures named, or all."""
    for name in names or list(PICTURES):
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(shutil.copy(ROOT / "examples" / RACER, Path(folder, "racer.toml")))
            with open_page(copy, height=820) as page:
                PICTURES[name](page)
                taken = Image.open(io.BytesIO(page.screenshot()))
                # 256 colours, rare ones too: half of the bytes, and the same to the eye.
                taken.convert("RGB").quantize(256, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(
                    HERE / f"{name}.png", optimize=True
                )
        print(f"taken: {name}.png")


if __name__ == "__main__":
    main(sys.argv[1:])
