"""Two devices of one person and the server between them, for the tests of backing up."""

import json
from collections.abc import Sequence
from typing import Any

from selenium.webdriver.common.keys import Keys

from tests.support.phone import Phone
from tests.support.server import LiveServer
from tests.support.table import Table

LOAD = "const load = (name) => import(document.documentElement.dataset.base + `js/${name}.js`);"
KEY = LOAD + "return (await (await load('store/backup')).backupOf())?.key ?? '';"
WORDS = LOAD + "return (await load('sync/key')).wordsOf(args[0]);"
ROUND = LOAD + "await (await load('sync/backup_watch')).backupWatch.now();"
ROWS = (
    LOAD + "return JSON.stringify(await (await (await load('store/database')).openDatabase()).all(args[0]));"
)


class Device(Table):
    """A person's device with the app open."""

    def __init__(self, phone: Phone, server: LiveServer) -> None:
        super().__init__(phone, server.url)

    @property
    def key(self) -> str:
        """The key of its notebook on the server; empty when it is not backed up."""
        return str(self.phone.js(KEY))

    def begin_backup(self, name: str) -> None:
        """Begin a backup of this device, and give the device a name."""
        self.open("#/backup")
        self.type(".backup .card:last-of-type input", name)
        self.tap(".backup .button", "Begin backing up")
        self.until_backed_up()

    def share(self, other: "Device", name: str) -> None:
        """Take part in the other's notebook by typing the words of its key."""
        self.open("#/backup")
        self.type(".backup .card:last-of-type input", name)
        self.type(".backup textarea", " ".join(other.phone.js(WORDS, other.key)))
        self.take_part()

    def take_part(self) -> None:
        """Say yes to the notebook whose words were typed."""
        self.tap(".backup .button", "Look at that notebook")
        # By key: a finger so soon after another in the same place is taken for one that bounced.
        self.find(".backup .button.strong", "Share this notebook").send_keys(Keys.ENTER)
        self.until_backed_up()

    def until_backed_up(self) -> None:
        """Wait until the page of the backup says that everything is on the server."""
        self.find(".backup [role=status]", "Backed up.")

    def back_up(self) -> None:
        """One round of backing up, now; it is over when this returns."""
        self.phone.js(ROUND)

    def rows(self, store: str) -> list[dict[str, Any]]:
        """The rows of a store of this device's database, in an order that follows from what they say."""
        rows: list[dict[str, Any]] = json.loads(self.phone.js(ROWS, store))
        return sorted(rows, key=lambda row: json.dumps(row, sort_keys=True))


def meet(*devices: Device) -> None:
    """Let devices back up in turn until each has what the others have."""
    for device in (*devices, *devices):
        device.back_up()


def same_rows(devices: Sequence[Device], *stores: str) -> None:
    """Assert that devices hold the same rows."""
    first, *others = devices
    for store in stores:
        for other in others:
            mine, theirs = first.rows(store), other.rows(store)
            assert theirs == mine, f"{store}: {theirs} against {mine}"
