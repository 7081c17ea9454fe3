"""From the tap on an option to the changed range on screen, on a processor six times slower than this one.

Taps are real touches sent through the browser's debugging interface: a finger that stays for 80 ms, as
fingers do, and then a pause, so that no two taps are taken for a double tap. A listener on the page notes
each click's own time stamp, which is the moment the finger left the glass. The clock stops once the next
frame is done: its animation callback posts a message and asks for the frame after it, and the first of the
two to arrive counts. (The message alone may be held up by further frames, which come first.) So the time
holds the waiting for the frame, the appraisal, the look next, layout and paint. The browser's own figure
for the same, its event timing up to the presentation in steps of 8 ms, stands beside it.

The slowed-down browser takes its own share of that time for any tap on any page. So the same is measured on a
bare page with one button that changes one word; what the app adds to it is told in a row of its own.
"""

import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.benchmarks.stand import app, phone
from tests.benchmarks.table import Row, at_most, note
from tests.support.phone import Phone
from tests.support.table import Table

TAPS = 200
BARE_TAPS = 40
SLOWER = 6
# Milliseconds between taps, and seconds that the finger stays.
PAUSE = 500
TOUCH = 0.08

RECORD = """
globalThis.taps = [];
globalThis.events = [];
let marks = null;
const channel = new MessageChannel();
const mark = () => marks?.push(performance.now());
const shown = () => {
  mark();
  if (marks) taps.push(marks);
  marks = null;
};
channel.port1.onmessage = shown;
addEventListener('click', (event) => {
  if (!event.target.closest('.check .option') || event.detail > 1) return;
  marks = [event.timeStamp];
  mark();
  requestAnimationFrame(() => {
    mark();
    channel.port2.postMessage(null);
    requestAnimationFrame(shown);
  });
}, true);
addEventListener('click', mark);
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) if (entry.name === 'click') events.push(entry.duration);
}).observe({ type: 'event', durationThreshold: 16 });
"""
# What lies between the marks of one tap.
PARTS = ("before the page hears", "its code", "until the frame", "the frame")
BARE = """
document.body.innerHTML = '<div class="check" id="only"><button class="option">Tap</button><p></p></div>';
const [button, word] = document.querySelectorAll('button, p');
button.onclick = () => { word.textContent = String(taps.length); };
taps.length = 0;
"""
# Brings the first open check that was not yet tapped to the middle; gives where one of its options lies.
AIM = """
globalThis.tapped ??= new Set();
const open = [...document.querySelectorAll('.check:not([hidden])')]
  .find((card) => !tapped.has(card.id) && card.querySelector('.option'));
if (!open) return null;
tapped.add(open.id);
const options = open.querySelectorAll('.option');
const option = options[args[0] % options.length];
option.scrollIntoView({ block: 'center' });
await new Promise((resolve) => setTimeout(resolve, args[1]));
const box = option.getBoundingClientRect();
return [box.x + box.width / 2, box.y + box.height / 2];
"""


def rows(folder: Path) -> Iterator[Row]:
    """Two hundred taps over new sets, each check tapped once; then taps on a bare page."""
    with app(folder) as server, phone(folder) as user:
        server.start()
        table = Table(user, server.url)
        table.open()
        table.until_ready_offline()
        _command(user, "Emulation.setCPUThrottlingRate", rate=SLOWER)
        user.js(RECORD)
        marks = _tap_through(user, table)
        events = sorted(user.js("return events"))
        bare = _tap_bare_page(user)
    assert (len(marks), len(bare)) == (TAPS, BARE_TAPS)
    taps, least = _totals(marks), _totals(bare)
    p50, p95 = statistics.median(taps), _percentile(taps, 95)
    beside = f"median {p50:.0f}, longest {max(taps):.0f}"
    yield at_most(f"tap to new range, {SLOWER}× slower, p95 of {TAPS}", 33, p95, "ms", beside)
    yield Row("  its parts, medians", "", _parts(marks))
    # Event Timing leaves out what took less than 16 ms.
    counted = [16.0] * (TAPS - len(events)) + events
    yield note("  p95 by the browser's event timing", _percentile(counted, 95), "ms", "in steps of 8")
    beside = f"median {statistics.median(least):.0f}"
    yield note("  a bare page with one button, p95", _percentile(least, 95), "ms", beside)
    yield Row("  its parts, medians", "", _parts(bare))
    yield note("  what the app adds to that, median", p50 - statistics.median(least), "ms")


def _tap_through(user: Phone, table: Table) -> list[list[float]]:
    done = 0
    while done < TAPS:
        table.open("#/")
        table.new_set("Type not known")
        user.js("globalThis.tapped = new Set()")
        while done < TAPS and (place := user.js(AIM, done, PAUSE)):
            _touch(user, place)
            done += 1
            _until_shown(user, done)
    taps: list[list[float]] = user.js("return taps")
    return taps


def _tap_bare_page(user: Phone) -> list[list[float]]:
    user.js(BARE)
    for done in range(1, BARE_TAPS + 1):
        user.js("globalThis.tapped = new Set()")
        _touch(user, user.js(AIM, 0, PAUSE))
        _until_shown(user, done)
    taps: list[list[float]] = user.js("return taps")
    return taps


def _totals(marks: list[list[float]]) -> list[float]:
    return [tap[-1] - tap[0] for tap in marks]


def _parts(marks: list[list[float]]) -> str:
    medians = (statistics.median(tap[at + 1] - tap[at] for tap in marks) for at in range(len(PARTS)))
    return ", ".join(f"{part} {figure:.0f}" for part, figure in zip(PARTS, medians, strict=True))


def _until_shown(user: Phone, done: int) -> None:
    user.until(lambda _: user.js("return taps.length") >= done, f"tap {done} to be shown")


def _touch(user: Phone, place: list[float]) -> None:
    point = {"x": place[0], "y": place[1]}
    _command(user, "Input.dispatchTouchEvent", type="touchStart", touchPoints=[point])
    time.sleep(TOUCH)
    _command(user, "Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])


def _command(user: Phone, name: str, **parameters: Any) -> None:
    user.driver.execute_cdp_cmd(name, parameters)


def _percentile(figures: list[float], percent: int) -> float:
    """The smallest figure that is not exceeded by this share of them."""
    return sorted(figures)[-(-len(figures) * percent // 100) - 1]
