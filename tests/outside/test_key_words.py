"""The key as words, held against the reference implementation of BIP 39.

https://github.com/bitcoin/bips/blob/master/bip-0039.mediawiki; the package `mnemonic` implements it.
"""

import random

from mnemonic import Mnemonic

from tests.support.phone import Phone
from tests.support.two_devices import LOAD

WORDS = LOAD + "const { wordsOf } = await load('sync/key'); return Promise.all(args[0].map(wordsOf));"
KEYS = (
    LOAD
    + "const { keyOf } = await load('sync/key'); return Promise.all(args[0].map((words) => keyOf(words)));"
)
REFUSED = (
    LOAD + "const { keyOf } = await load('sync/key');"
    "return Promise.all(args[0].map((words) => keyOf(words).then(() => false, () => true)));"
)


def test_words_of_keys_are_those_of_the_reference_and_lead_back(opened_phone: Phone) -> None:
    chance = random.Random(39)
    keys = ["0" * 32, "f" * 32, *(f"{chance.getrandbits(128):032x}" for _ in range(200))]
    reference = Mnemonic("english")
    expected = [reference.to_mnemonic(bytes.fromhex(key)) for key in keys]
    assert [" ".join(words) for words in opened_phone.js(WORDS, keys)] == expected
    assert opened_phone.js(KEYS, expected) == keys


def test_words_that_the_reference_refuses_are_refused(opened_phone: Phone) -> None:
    chance = random.Random(40)
    reference = Mnemonic("english")
    typed = [" ".join(chance.sample(reference.wordlist, 12)) for _ in range(200)]
    assert opened_phone.js(REFUSED, typed) == [not reference.check(words) for words in typed]
