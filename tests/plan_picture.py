"""The picture of README.md, the page of a demo plan that says what the year brings.

`python tests/plan_picture.py` makes it anew.

The page's text travels in the picture, so that a test can tell whether the plan still says so.
"""

import struct
import sys
import tempfile
import unicodedata
import zlib
from pathlib import Path

import pypdfium2

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from aquacalc.report import season  # noqa: E402  (the script may run without an installed package)

PICTURE = ROOT / "docs" / "plan.png"
GARDEN, MADE, PAPER = "demo:yard", "2027-02-20", "letter"
HEAD = "What is wished, and what the year brings"
WIDTH_PX = 680
KEYWORD = b"Description"


def goal_page() -> tuple[str, bytes]:
    """Text and picture of that page, as the command of README.md makes it."""
    with tempfile.TemporaryDirectory() as folder:
        plan = season.season(GARDEN, Path(folder) / "plan", paper=PAPER, made=MADE)
        document = pypdfium2.PdfDocument(plan.pdfs[0])
        page = next(one for one in document if HEAD in text(one))
        said = text(page)
        shown = page.render(scale=WIDTH_PX / page.get_width(), grayscale=True).to_numpy()
        document.close()
    rows = shown.reshape(shown.shape[0], shown.shape[1])
    return said, png(rows.shape[1], rows.shape[0], [row.tobytes() for row in rows], said)


def text(page: pypdfium2.PdfPage) -> str:
    """Words alone: ligatures and line breaks are the printer's."""
    return " ".join(unicodedata.normalize("NFKC", page.get_textpage().get_text_bounded()).split())


def png(width: int, height: int, rows: list[bytes], said: str) -> bytes:
    """A grey picture with its text, by the PNG specification (W3C)."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    pixels = zlib.compress(b"".join(b"\0" + row for row in rows), 9)
    told = KEYWORD + b"\0\0\0\0\0" + said.encode("utf-8")
    parts = (chunk(b"IHDR", head), chunk(b"iTXt", told), chunk(b"IDAT", pixels), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def kept_text(picture: bytes) -> str:
    """The text that a picture was made with."""
    at = picture.index(b"iTXt" + KEYWORD)
    (length,) = struct.unpack(">I", picture[at - 4 : at])
    return picture[at + 4 + len(KEYWORD) + 5 : at + 4 + length].decode("utf-8")


if __name__ == "__main__":
    PICTURE.write_bytes(goal_page()[1])
