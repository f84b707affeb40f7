"""Look at a notebook: open it as a page under headless Chromium and write what it shows as a PNG.

    python tests/browser/look.py workbook/01_size_the_garden.ipynb look.png
    python tests/browser/look.py NOTEBOOK OUT.png --width 390          as a phone shows it
    python tests/browser/look.py NOTEBOOK OUT.png --part 900 1200      1200 pixels of height from 900 down
    python tests/browser/look.py - OUT.png                             the list of questions
    python tests/browser/look.py NOTEBOOK OUT.png --move .aq-size 5    after five steps of the first slider

Console errors, and requests that left the machine, are
printed.
"""

import argparse
import sys
import tempfile
from pathlib import Path

from lab import Notebook, chromium, chromium_path, workbook


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Write a picture of a notebook.")
    parser.add_argument("notebook", type=Path)
    parser.add_argument("picture", type=Path)
    parser.add_argument("--width", type=int, default=1280)
    parser.add_argument("--move", nargs=2, metavar=("PANEL", "STEPS"))
    parser.add_argument("--part", nargs=2, type=int, default=(0, 0), metavar=("TOP", "HEIGHT"))
    chosen = parser.parse_args(argv)
    if chromium_path() is None:
        print("no Chromium or Chrome found", file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as scratch:
        home = Path(scratch) / "home"
        home.mkdir()
        name = "" if chosen.notebook == Path("-") else chosen.notebook.stem
        with workbook(Path(scratch), home) as address, chromium() as browser:
            notebook = Notebook.open(browser, address, name, width=chosen.width)
            if chosen.move:
                notebook.move_slider(chosen.move[0], steps=int(chosen.move[1]))
            notebook.page.wait_for_timeout(1500)
            notebook.picture(chosen.picture, *chosen.part)
    for line in [*notebook.console, *notebook.left_the_machine()]:
        print(line)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
