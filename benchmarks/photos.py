"""How long a photo of 12 megapixels takes: opened and cleaned, kept beside the book, shown again, and its colour measured.

Run by hand: ``python benchmarks/photos.py [PHOTOS]``. The photos are made here: noise blown up to the size and weight of a phone's.
"""

import os
import platform
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import TypeVar

import numpy as np
from PIL import Image

from bonebench.door import About, Door, Intake
from bonebench.services.photos.colour import ColourAsked, colour_in
from bonebench.services.photos.taking import take

T = TypeVar("T")
SIZE = (4032, 3024)


def photo(seed: int) -> bytes:
    """A photo as large and as heavy as a phone's."""
    noise = np.random.default_rng(seed).integers(40, 200, (378, 504, 3), dtype=np.uint8)
    notes = Image.Exif()
    notes[0x0112] = 6
    out = BytesIO()
    Image.fromarray(noise).resize(SIZE, Image.Resampling.BICUBIC).save(out, "JPEG", quality=92, exif=notes)
    return out.getvalue()


def timed(taken: list[float], act: Callable[[], T]) -> T:
    begun = time.perf_counter()
    result = act()
    taken.append(1000 * (time.perf_counter() - begun))
    return result


def main() -> None:
    """Print a table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 8
    sent = [photo(seed) for seed in range(count)]
    ms: dict[str, list[float]] = {name: [] for name in ("open and clean", "keep", "list", "measure colour", "check the book")}
    with tempfile.TemporaryDirectory() as folder:
        door = Door.make(
            Path(folder) / "bone.db", name="Room", zone="UTC", units="metric", rng=random.Random(1), writer="benchmark",
            clock=lambda: datetime.now(UTC),  # noqa: TID251  a benchmark is a face
        )  # fmt: skip
        tag = door.add(Intake("raccoon")).tag
        asked = ColourAsked("5 5 20 20", "60 60 20 20", "85%", "bench")
        for data in sent:
            taken = timed(ms["open and clean"], lambda data=data: take(data, "IMG.jpg"))  # type: ignore[misc]
            kept = timed(ms["keep"], lambda taken=taken: door.keep_photos(About(tag), [taken])).kept[0]  # type: ignore[misc]
            shown = timed(ms["list"], lambda: door.photos(tag)).named(kept.entry)
            file = door.photo_file(shown.sha256)
            timed(
                ms["measure colour"],
                lambda file=file, shown=shown: door.work(lambda known: colour_in(known, file, shown, tag=tag, asked=asked)),  # type: ignore[misc]
            )
        timed(ms["check the book"], door.check)
        door.close()
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, load {os.getloadavg()[0]:.1f}")
    print(f"{count} photos of {SIZE[0]} by {SIZE[1]}, {len(sent[0]) / 1e6:.1f} MB each; milliseconds")
    for name, each in ms.items():
        print(f"{name:16} {len(each):4} {statistics.median(each):8.0f} middle {max(each):8.0f} most")


if __name__ == "__main__":
    main()
