"""The address of a workshop as a code to be scanned, for the wall."""

from pathlib import Path

import segno

NAME = "workshop-address.svg"


def write(address: str, folder: Path) -> Path:
    """Write the picture into a folder."""
    path = folder / NAME
    segno.make(address, error="m").save(str(path), scale=8)
    return path
