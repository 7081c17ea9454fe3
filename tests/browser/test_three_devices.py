"""Three devices' real scripts and databases, and a real server, under random edits and lost answers.

The same with a model of the phone in place of its scripts, over many more runs, is in tests/notebook/.
"""

import json
from collections.abc import Callable

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from selenium.webdriver.common.by import By

from tests.conftest import SLOW_LINE
from tests.support.phone import Phone
from tests.support.server import LiveServer

# Names below localhost lead to this machine, and each is an origin with storage of its own.
DEVICES = ("one", "two", "three")
SETS, KEYS = ("s1", "s2"), ("check/dial", "note")

SCRIPT = """
const base = document.documentElement.dataset.base;
const load = (name) => import(`${base}js/${name}.js`);
const { openDatabase } = await load('store/database');
const { save } = await load('store/saving');
const { beginBackup } = await load('store/backup');
const { round } = await load('sync/round');
const { letStand } = await load('store/choosing');
const { differences } = await load('store/history');
const database = await openDatabase();
const realFetch = window.realFetch ??= window.fetch;
window.sent ??= [];
window.fetch = (address, request) => {
  if (String(address).endsWith('/exchange')) window.sent.push(request);
  return realFetch(address, request);
};
const quietly = { taken: () => undefined, carried: () => undefined };
const steps = {
  begin: async (key) => {
    await database.within(async (transaction) => {
      for (const store of transaction.objectStoreNames) transaction.objectStore(store).clear();
    });
    const opened = { method: 'PUT', body: '{}', headers: { Authorization: `Bearer ${key}` } };
    await realFetch('/notebook', opened);
    await beginBackup(key);
    window.sent = [];
  },
  start: (set) => save(({ put }) => put('sets', {
    id: set, family: 'pack-set', model_sheet: null, created: '2026-05-01T07:00:00.000Z', demo: false })),
  write: (set, key, value) => save(({ put }) => put('findings', {
    set, key, value: key === 'note' ? value : { option: value }, changed: new Date().toISOString() })),
  remove: async (set, removed) => {
    const row = await database.get('sets', set);
    if (row) await save(({ put }) => put('sets', { ...row, removed }));
  },
  choose: async (which) => {
    const [difference] = await differences();
    if (difference) await letStand(difference.heads.at(which));
  },
  meet: () => round(quietly),
  lose: async () => {
    window.fetch = async (address, request) => {
      await realFetch(address, request);
      throw new TypeError('the answer was lost');
    };
    await round(quietly).catch(() => undefined);
  },
  repeat: async () => {
    for (const request of window.sent.toReversed()) {
      await realFetch('/notebook/exchange', { ...request, signal: undefined });
    }
  },
  tell: async () => {
    const { plain } = await load('store/operations');
    const rows = async (store) => (await database.all(store)).map(plain).sort();
    const operations = await database.all('operations');
    return JSON.stringify({
      operations: operations.map(({ id }) => id).sort(),
      waiting: operations.filter((row) => row.waiting || row.refused).length,
      rows: await Promise.all(['sets', 'findings', 'standing'].map(rows)) });
  },
};
const [name, ...given] = JSON.parse(args[0]);
return (await steps[name](...given)) ?? null;
"""

STEPS = st.one_of(
    st.tuples(st.just("start"), st.sampled_from(SETS)),
    st.tuples(st.just("write"), st.sampled_from(SETS), st.sampled_from(KEYS), st.sampled_from("abc")),
    st.tuples(st.just("remove"), st.sampled_from(SETS), st.booleans()),
    st.tuples(st.just("choose"), st.sampled_from((0, -1))),
    st.tuples(st.just("meet")),
    st.tuples(st.just("lose")),
    st.tuples(st.just("repeat")),
)


class Trio:
    """Three devices in three tabs."""

    def __init__(self, phone: Phone, server: LiveServer) -> None:
        self.phone = phone
        port = server.url.rpartition(":")[2]
        self.tabs = {}
        for name in DEVICES:
            phone.driver.switch_to.new_window("tab")
            # What is emulated holds for one tab only.
            phone.before_each_page(SLOW_LINE)
            phone.driver.get(f"http://{name}.localhost:{port}/#/bin")
            phone.until(lambda driver: driver.find_elements(By.CSS_SELECTOR, "main[data-page]"), "the app")
            self.tabs[name] = phone.driver.current_window_handle

    def do(self, device: str, *step: object) -> str:
        """One step on one device."""
        self.phone.driver.switch_to.window(self.tabs[device])
        return str(self.phone.js(SCRIPT, json.dumps(step)))


def test_after_any_edits_offline_spells_lost_answers_and_repeated_requests_all_devices_are_equal(
    live_server: LiveServer, browser: Callable[..., Phone]
) -> None:
    trio = Trio(browser(), live_server)
    keys = iter(f"{number:032x}" for number in range(1, 10_000))

    @settings(
        max_examples=8,
        deadline=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.lists(st.tuples(st.sampled_from(DEVICES), STEPS), min_size=3, max_size=14))
    def equal_in_the_end(steps: list[tuple[str, tuple[object, ...]]]) -> None:
        key = next(keys)
        for device in DEVICES:
            trio.do(device, "begin", key)
        for device, step in steps:
            trio.do(device, *step)
        for _ in range(2):
            for device in DEVICES:
                trio.do(device, "meet")
        first, *others = [json.loads(trio.do(device, "tell")) for device in DEVICES]
        assert first["waiting"] == 0
        for other in others:
            assert other == first

    equal_in_the_end()
