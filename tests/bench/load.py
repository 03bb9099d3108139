"""Twenty people look at a plan while three others plan: how long pages take, and what memory.

``python -m tests.bench.load [--readers 20] [--planners 3] [--seconds 60]`` serves a dashboard,
makes one plan of the smallest sample, lets planners search plans of the sample quarter and
readers load the page of the first meanwhile, and prints times and memory. Readers speak to the
server as a browser does, over a connection of their own, without drawing what comes: what is
measured is the server.
"""

import argparse
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from statistics import median
from urllib.parse import urlsplit

from playwright.sync_api import expect, sync_playwright
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.sync.client import connect

from tests.browser.conftest import LAUNCH, Server, without_a_browser

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
MS = 240_000
SECONDS_BETWEEN_LOADS = 3.0
MIB = 2**20


def main() -> None:
    """Measure, and print what was found."""
    wanted = argparse.ArgumentParser("load")
    wanted.add_argument("--readers", type=int, default=20)
    wanted.add_argument("--planners", type=int, default=3)
    wanted.add_argument("--seconds", type=float, default=60.0)
    told = wanted.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder), without_a_browser)
        server.wait()
        try:
            measure(server, told.readers, told.planners, told.seconds)
        finally:
            server.end()


def measure(server: Server, readers: int, planners: int, seconds: float) -> None:
    """Let people plan and read at the same time."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=LAUNCH)
        pages = []
        for number in range(planners + 2):  # one to read of, and one more who has to wait
            page = browser.new_page()
            page.goto(server.address)
            name = "tiny.xlsx" if number == 0 else "quarter.xlsx"
            page.locator("input[type=file]").first.set_input_files(SAMPLES / name)
            start = page.get_by_role("button", name="Make the plan", exact=True)
            expect(start).to_be_enabled(timeout=MS)
            pages.append(page)
        pages[0].get_by_role("button", name="Make the plan", exact=True).click()
        expect(pages[0].get_by_role("button", name="Plan file (.json)")).to_be_visible(timeout=MS)
        desk = urlsplit(pages[0].url).query
        alone = [load(server, desk) for _ in range(5)]
        for page in pages[1:]:
            page.get_by_role("button", name="Make the plan", exact=True).click()
        waiting = pages[-1].get_by_text("Waiting until other work on this machine has ended.")
        expect(waiting).to_be_visible(timeout=MS)
        found: list[float] = []
        faults: list[str] = []
        stop = threading.Event()
        people = [
            threading.Thread(target=read, args=(server, desk, number, found, faults, stop))
            for number in range(readers)
        ]
        for one in people:
            one.start()
        most = 0
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            most = max(most, memory_mib(server))
            stop.wait(1.0)
        stop.set()
        for one in people:
            one.join()
        browser.close()
    if not found:
        raise SystemExit(f"no page was loaded: {faults[:3]}")
    found.sort()
    tell(f"{readers} readers, {planners} planners and one who waits, {seconds:g} s")
    tell(f"a page alone: {median(alone):.2f} s")
    tell(
        f"{len(found)} pages: median {median(found):.2f} s, 95 % within "
        f"{found[int(0.95 * (len(found) - 1))]:.2f} s, longest {found[-1]:.2f} s"
    )
    tell(f"faults: {len(faults)} {faults[:3]}")
    tell(f"memory of the server and its searches: {most:,} MiB at the most")


def tell(line: str) -> None:
    """Print a line."""
    sys.stdout.write(f"{line}\n")


def read(
    server: Server,
    desk: str,
    number: int,
    found: list[float],
    faults: list[str],
    stop: threading.Event,
) -> None:
    """Load a page again and again, as somebody does who looks at a plan."""
    stop.wait(SECONDS_BETWEEN_LOADS * number / 20)
    while not stop.is_set():
        try:
            found.append(load(server, desk))
        except Exception as fault:  # every one counts
            faults.append(f"{type(fault).__name__}: {fault}")
        stop.wait(SECONDS_BETWEEN_LOADS)


def load(server: Server, query: str) -> float:
    """Return how long the server takes until a page is drawn whole, in seconds."""
    began = time.monotonic()
    address = server.address.replace("http://", "ws://") + "_stcore/stream"
    origin = server.address.split("/")[2]
    with connect(
        address, subprotocols=["streamlit"], origin=f"http://{origin}", max_size=None
    ) as line:
        asked = BackMsg()
        asked.rerun_script.query_string = query
        line.send(asked.SerializeToString())
        while True:
            heard = ForwardMsg()
            heard.ParseFromString(line.recv(timeout=60))
            kind = heard.WhichOneof("type")
            if kind == "script_finished":
                break
    return time.monotonic() - began


def memory_mib(server: Server) -> int:
    """Return the memory of the server and all its children, in MiB."""
    seen, mib = [server.process.pid], 0
    for pid in seen:
        children = subprocess.run(
            ["pgrep", "-P", str(pid)], capture_output=True, text=True, check=False
        )
        seen += [int(child) for child in children.stdout.split()]
        try:
            fields = Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()
        except OSError:
            continue
        mib += int(fields[1]) * 4096 // MIB
    return mib


if __name__ == "__main__":
    main()
