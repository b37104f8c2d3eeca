"""How long the packet takes once all is worked out, page by page.  Run it: .venv/bin/python bench/packet.py [--big]

Seconds for each page of the main sample's packet, then the whole; with --big also of a piece of about 200 parts.
Pictures and pages are made once each; the press (typesetting) comes last.
"""

import argparse
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "bench")]

from whole import SAMPLE, plan_of  # noqa: E402

from storystick.app.pipeline import Job, Texts  # noqa: E402
from storystick.paper import packet  # noqa: E402


def measure(texts: Texts) -> None:
    """Print the seconds of each page."""
    folder = Job(texts).folder
    begun = last = time.perf_counter()
    names: list[str] = []

    def tell(name: str, share: float) -> None:
        nonlocal last
        now = time.perf_counter()
        if names:
            print(f"  {names[-1]:<28} {now - last:6.2f} s")
        names.append(name)
        last = now

    size = len(packet(folder, tell=tell))
    now = time.perf_counter()
    print(f"  {names[-1]:<28} {now - last:6.2f} s")
    print(f"{len(folder.build.parts)} parts: {now - begun:.2f} s in all, {size / 1024:.0f} KB", flush=True)


def main() -> None:
    """The main sample, and a big piece where asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--big", action="store_true", help="a piece of about 200 parts too")
    big = parser.parse_args().big
    measure(Texts(SAMPLE.read_text("utf-8"), SAMPLE.name))
    if big:
        measure(Texts(plan_of(200), "growth.yaml"))


if __name__ == "__main__":
    main()
