"""A whole class at once: visitors who come in, open a page and move a slider; memory and times are printed.

python tests/browser/many_visitors.py          25 visitors
python tests/browser/many_visitors.py 10
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import psutil
from lab import Notebook, chromium, free_port, settings

PAGE = "01_size_the_garden"
CHANGED = """() => new Promise(done => {
    const shown = document.querySelector(".aq-size .aq-result").closest(".widget-html");
    const begin = performance.now();
    new MutationObserver((_, watch) => { watch.disconnect(); done(performance.now() - begin); })
        .observe(shown, {childList: true, subtree: true});
})"""


def memory_gb(server: psutil.Process) -> float:
    """Of the server and all that it started; what they share is counted once."""
    family = [server, *server.children(recursive=True)]
    return sum(getattr(one.memory_full_info(), "pss", one.memory_info().rss) for one in family) / 1e9


def moved_ms(one: Notebook) -> float:
    """From a key on the first slider to the new answer."""
    one.page.locator(".aq-size .noUi-handle").first.focus()
    watch = one.page.evaluate_handle(f"() => ({{done: ({CHANGED})()}})")
    one.page.keyboard.press("ArrowRight")
    return float(one.page.evaluate("watch => watch.done", watch))


def main(argv: list[str]) -> int:
    count = int(argv[0]) if argv else 25
    with tempfile.TemporaryDirectory() as scratch, chromium() as browser:
        home, opened = Path(scratch) / "home", Path(scratch) / "opened"
        home.mkdir()
        opened.mkdir()
        command = [
            sys.executable,
            "-m",
            "aquacalc",
            "serve",
            str(opened),
            "--lan",
            "--",
            f"--port={free_port()}",
        ]
        server = subprocess.Popen(command, env=settings(home), stdout=subprocess.PIPE, text=True)
        assert server.stdout is not None
        address = server.stdout.readline().split()[-1]
        guests = []
        for number in range(count):
            one = Notebook.watched(browser.new_context(), 1280, 800)
            one.page.goto(address.replace(address.split("/")[2].split(":")[0], "127.0.0.1"))
            one.page.locator("#name").fill(f"Visitor {number + 1}")
            one.page.locator("form button").first.click()
            one.page.locator("form.garden").first.wait_for()
            guests.append(one)
        begin = time.monotonic()
        for one in guests:
            one.page.goto(one.page.url.split("?")[0] + f"voila/render/{PAGE}.ipynb#all", wait_until="commit")
        for one in guests:
            one.page.wait_for_selector(".aq-size .aq-answer", timeout=600_000)
        opened_s = time.monotonic() - begin
        took = [moved_ms(one) for _ in range(3) for one in guests]
        worst = statistics.quantiles(took, n=20)[-1]
        print(
            f"{count} visitors: {memory_gb(psutil.Process(server.pid)):.2f} GB, all pages open after"
            f" {opened_s:.0f} s, slider median {statistics.median(took):.0f} ms, 95 % {worst:.0f} ms;"
            f" {psutil.cpu_count()} cores, load {psutil.getloadavg()[0]:.1f}"
        )
        server.terminate()
        server.wait(timeout=60)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
