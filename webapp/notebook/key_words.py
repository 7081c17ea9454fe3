"""The words that stand for a notebook's key on paper: BIP-39, twelve English words, four bits of check."""

from mnemonic import Mnemonic


def word_list() -> list[str]:
    """The 2,048 words, each standing for its place in the list."""
    return list(Mnemonic("english").wordlist)
