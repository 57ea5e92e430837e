#!/usr/bin/env python3
"""How long until the window shows something, and how much memory it then holds, beside a window
of the same toolkit with nothing in it.

    cargo build --release --bin flatwright --example empty_window
    tests/bench/start.py [--runs 9] [--programs target/release]

All are seen from outside, by the same means: a display of its own (Xvfb, software graphics) is asked
a thousand times a second until half of a line across its middle is no longer black. Memory is what
the system says is resident once the program has done nothing for a while. Runs alternate, so that
whatever else the machine does meets all alike; medians are compared. Exits with 1 where a ratio is
over its limit: 1.3 for the first picture, 1.5 for memory.
"""

import argparse
import os
import socket
import statistics
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PAINT_LIMIT, MEMORY_LIMIT = 1.3, 1.5
WIDTH, HEIGHT = 1280, 800
ROOT = Path(__file__).resolve().parents[2]


class Display:
    """An X server of our own, and one connection to it that looks at its picture."""

    def __init__(self):
        ours, theirs = os.pipe()
        command = ["Xvfb", "-displayfd", str(theirs), "-screen", "0", f"{WIDTH}x{HEIGHT}x24"]
        command += ["-noreset", "-nolisten", "tcp", "-br"]
        self.server = subprocess.Popen(command, pass_fds=[theirs], stderr=subprocess.DEVNULL)
        os.close(theirs)
        with os.fdopen(ours) as said:
            number = said.readline().strip()
        self.name = f":{number}"
        self.wire = socket.socket(socket.AF_UNIX)
        self.wire.connect(f"/tmp/.X11-unix/X{number}")
        self.wire.sendall(struct.pack("<cxHHHHxx", b"l", 11, 0, 0, 0))
        accepted, _, _, _, words = struct.unpack("<BBHHH", self._read(8))
        setup = self._read(4 * words)
        if accepted != 1:
            sys.exit("the display lets nobody look at it")
        vendor, formats = struct.unpack_from("<H", setup, 16)[0], setup[21]
        self.root = struct.unpack_from("<I", setup, 32 + (vendor + 3) // 4 * 4 + 8 * formats)[0]

    def _read(self, count):
        got = b""
        while len(got) < count:
            more = self.wire.recv(count - len(got))
            if not more:
                sys.exit("the display went away")
            got += more
        return got

    def shows_something(self):
        """Whether half of the line across the middle is no longer black."""
        get_image, pixmap = 73, 2
        self.wire.sendall(struct.pack("<BBHIhhHHI", get_image, pixmap, 5, self.root, 0, HEIGHT // 2, WIDTH, 1, ~0 & 0xFFFFFFFF))
        kind, _, _, words = struct.unpack("<BBHI", self._read(8))
        rest = self._read(24 + (4 * words if kind == 1 else 0))
        if kind != 1:
            return False
        line = struct.unpack_from(f"<{WIDTH}I", rest, 24)
        return sum(pixel & 0xFFFFFF != 0 for pixel in line) * 2 > WIDTH

    def close(self):
        self.wire.close()
        end(self.server)


def end(process):
    process.terminate()
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def worked(pid):
    """Processor time so far, in hundredths of a second."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


def wait_until(done, seconds, pause):
    give_up = time.monotonic() + seconds
    while not done():
        if time.monotonic() > give_up:
            return False
        time.sleep(pause)
    return True


def settle(pid):
    """Waits until two seconds have passed with next to no work."""
    before = [worked(pid)]

    def idle():
        time.sleep(2)
        now = worked(pid)
        rest, before[0] = now - before[0], now
        return rest <= 2

    return wait_until(idle, 120, 0)


def memory(pid):
    """Resident and at its highest, in MB."""
    said = dict(line.split(":", 1) for line in Path(f"/proc/{pid}/status").read_text().splitlines())
    return [int(said[key].split()[0]) / 1024 for key in ("VmRSS", "VmHWM")]


def run(command, display, kept):
    """One start as if it were the first: ms to the first picture, MB resident, MB at the highest."""
    with tempfile.TemporaryDirectory() as home:
        env = {**os.environ, "DISPLAY": display.name, "LIBGL_ALWAYS_SOFTWARE": "1"}
        env |= {"HOME": home, "XDG_DATA_HOME": home, "XDG_CONFIG_HOME": home, "XDG_CACHE_HOME": kept}
        env.pop("WAYLAND_DISPLAY", None)
        if not wait_until(lambda: not display.shows_something(), 10, 0.01):
            sys.exit("the last window is still there")
        started = time.monotonic()
        process = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            if not wait_until(lambda: display.shows_something() or process.poll() is not None, 30, 0.001):
                sys.exit(f"nothing came up: {command}")
            painted = (time.monotonic() - started) * 1000
            if process.poll() is not None or not settle(process.pid):
                sys.exit(f"ended by itself, or never came to rest: {command}")
            return painted, *memory(process.pid)
        finally:
            end(process)


def main():
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--runs", type=int, default=9, help="of each, alternating")
    asked.add_argument("--programs", type=Path, default=ROOT / "target/release", help="folder they were built in")
    asked = asked.parse_args()
    program = asked.programs / "flatwright"
    windows = {
        "empty window": [asked.programs / "examples/empty_window"],
        "sample": [program],
        "nursery": [program, ROOT / "examples/nursery.ron"],
    }
    measured = {name: [] for name in windows}
    display = Display()
    try:
        with tempfile.TemporaryDirectory() as kept:
            for command in windows.values():
                run(command, display, kept)  # so that files and font lists have been read once
            for _ in range(asked.runs):
                for name, command in windows.items():
                    measured[name].append(run(command, display, kept))
    finally:
        display.close()
    middle = {name: [statistics.median(one) for one in zip(*runs)] for name, runs in measured.items()}
    empty = middle["empty window"]
    print("                first picture       resident         at its highest")
    over = False
    for name, (paint, resident, highest) in middle.items():
        ratios = [mine / base for mine, base in zip((paint, resident, highest), empty)]
        over |= ratios[0] > PAINT_LIMIT or ratios[1] > MEMORY_LIMIT
        print(f"{name:14} {paint:5.0f} ms {ratios[0]:5.2f} x {resident:7.1f} MB {ratios[1]:5.2f} x {highest:7.1f} MB {ratios[2]:5.2f} x")
    sys.exit(1 if over else 0)


if __name__ == "__main__":
    main()
