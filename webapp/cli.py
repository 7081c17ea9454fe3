"""The command `underchassis`: thin, every refusal one sentence on stderr and exit status 2."""

import argparse
import json
import os
import sys
from datetime import date
from pathlib import Path
from typing import Any

from webapp import __version__, backup_command, describe_command, lot_command, measure_command, tags_command
from webapp.errors import BadFile, BadInput, RulesBroken, UnderchassisError
from webapp.pages.appraising import appraise_document, family_and_sheet, pack_of
from webapp.paths import own_rules_folder, rules_folder
from webapp.rulebook.book import Rulebook
from webapp.rulebook.books import Books
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.languages import ENGLISH
from webapp.rulebook.progress import Progress, progress
from webapp.rulebook.tables import load, load_all
from webapp.writing import write_document

_LARGEST_FILE = 5_000_000
_LARGEST_LOT = 50_000_000
# A family with no more texts missing than this is nearly complete in a language; so many of them are named.
_NEARLY, _NAMED = 40, 3


def main(arguments: list[str] | None = None) -> int:
    """Runs one command; returns the exit status (0, or 2 when something was refused)."""
    options = _parser().parse_args(arguments)
    try:
        options.run(options)
    except UnderchassisError as refusal:
        print(f"underchassis: {_spoken(refusal)}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        _write_no_more()
    except KeyboardInterrupt:
        return 130
    return 0


def _spoken(refusal: UnderchassisError) -> str:
    """A refusal for the terminal: one printable line, whatever came in; broken rules a line each."""
    lines = str(refusal).split("\n") if isinstance(refusal, RulesBroken) else [str(refusal)]
    plain = ["".join(letter if letter.isprintable() else " " for letter in line) for line in lines]
    if len(plain) == 1 and len(plain[0]) > 450:
        plain = [f"{plain[0][:250]} … {plain[0][-150:]}"]
    return "\n".join(plain)


def _write_no_more() -> None:
    """Lets what is still waiting to be written go nowhere, so that it does not fail again at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="underchassis",
        description="Appraises a found radio set.",
        epilog="Each command has its own help: underchassis appraise --help",
    )
    parser.add_argument("--version", action="version", version=f"underchassis {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _serve_parser(commands)
    appraise = _command(
        commands, "appraise", _appraise, "findings JSON in, appraisal JSON out", "appraise found.json"
    )
    appraise.add_argument("file", metavar="FILE", help="a findings file, or - for standard input")
    describe = _command(
        commands, "describe", _describe, "findings JSON in, an honest description for a buyer out",
        "describe found.json --asked 120 --format html --out found.html",
    )  # fmt: skip
    describe_command.add_options(describe)
    pack = _command(
        commands, "pack", _pack, "the compiled rule tables of a family", "pack aircraft-hf-transmitter"
    )
    pack.add_argument("family", metavar="FAMILY", help="a family id")
    pack.add_argument("--sheet", metavar="ID", help="a model sheet of that family")
    for one in (describe, pack):
        one.add_argument(
            "--language", metavar="CODE", default=ENGLISH.code, help="in another language, such as de"
        )
    lot = _command(
        commands,
        "lot",
        _lot,
        "a lot of sets in, the best plan for it and the most to bid out",
        "lot tests/findings/lots/petrel-street.json",
    )
    lot.add_argument("file", metavar="FILE", help="a lot file, or - for standard input")
    rules = _command(commands, "rules", _rules, "check the rule tables", "rules")
    rules.add_argument(
        "--missing", metavar="FAMILY", help="list instead what other languages lack of a family, text by text"
    )
    measure = _command(
        commands, "measure", _measure, "the diameter of a hole in a photo",
        "measure front.jpg --reference card --corners 310,220,905,240,890,615,300,590 --near 1010,420",
    )  # fmt: skip
    measure_command.add_options(measure)
    tags = _command(
        commands, "tags", _tags, "a printable sheet of numbered QR labels",
        "tags --count 24 --out labels.html", rules=False,
    )  # fmt: skip
    tags_command.add_options(tags)
    backup = _command(
        commands, "backup", _backup, "all notebooks on the server into one file",
        "backup notebooks-2026-11-26.sqlite3", rules=False,
    )  # fmt: skip
    backup_command.add_file(backup)
    restore = _command(
        commands, "restore", _restore, "a backup in the place of what the server holds",
        "restore notebooks-2026-11-26.sqlite3", rules=False,
    )  # fmt: skip
    backup_command.add_file(restore)
    return parser


def _command(
    commands: Any, name: str, run: Any, help_text: str, example: str, *, rules: bool = True
) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        name, help=help_text, description=help_text[0].upper() + help_text[1:] + ".",
        epilog=f"Example: underchassis {example}",
    )  # fmt: skip
    if rules:
        parser.add_argument(
            "--rules", type=Path, metavar="DIR",
            help="a folder of own rules, laid over the shipped ones row by row "
            "(default: $UNDERCHASSIS_RULES)",
        )  # fmt: skip
    parser.set_defaults(run=run)
    return parser


def _serve_parser(commands: Any) -> None:
    serve = _command(commands, "serve", _serve, "open the app in a browser", "serve --port 8000")
    serve.add_argument(
        "--host", default="127.0.0.1", help="address to listen on (default: this machine only)"
    )
    serve.add_argument("--port", type=_port, default=None, help="port (default: $PORT, else 8000)")
    serve.add_argument("--demo", action="store_true", help="begin a new notebook with three demo sets")
    backup_command.add_store_options(serve)


def _port(text: str) -> int:
    if not text.isdigit() or not 0 < int(text) < 65536:
        raise argparse.ArgumentTypeError(f"{text!r} is not a port; expected a number from 1 to 65535")
    return int(text)


def _serve(options: argparse.Namespace) -> None:
    from webapp.app import serve

    data, database = backup_command.store_of(options)
    port = options.port
    if port is None:
        try:
            port = _port(os.environ.get("PORT") or "8000")
        except argparse.ArgumentTypeError as error:
            raise BadInput(f"The variable PORT: {error}.") from error
    serve(_books(options), data, options.host, port, options.demo, database, _proxies())


def _proxies() -> int:
    said = os.environ.get("UNDERCHASSIS_PROXIES") or "0"
    if not said.isascii() or not said.isdigit() or int(said) > 10:
        raise BadInput(
            f'The variable UNDERCHASSIS_PROXIES is "{said}".', "Expected a number of proxies from 0 to 10."
        )
    return int(said)


def _book(options: argparse.Namespace) -> Rulebook:
    return load(rules_folder(), own_rules_folder(options.rules))


def _books(options: argparse.Namespace) -> Books:
    return load_all(rules_folder(), own_rules_folder(options.rules))


def _appraise(options: argparse.Namespace) -> None:
    document = _read_json(options.file)
    _print(appraise_document(_book(options), document, date.today()))


def _describe(options: argparse.Namespace) -> None:
    findings = _read_json(options.file)
    family, _ = family_and_sheet(_book(options), findings)
    book = _book_in_language(options, family)
    document = describe_command.document_of(options, book, findings, date.today())
    if options.out:
        write_document(document, options.out)
    else:
        _say(document)


def _lot(options: argparse.Namespace) -> None:
    document = _read_json(options.file, _LARGEST_LOT)
    _print(lot_command.lot_document(_book(options), document, date.today(), lot_command.Progress()))


def _pack(options: argparse.Namespace) -> None:
    _print(pack_of(_book_in_language(options, options.family), options.family, options.sheet))


def _book_in_language(options: argparse.Namespace, family: str) -> Rulebook:
    """The tables in the language asked for, or the English ones while the family is not complete in it."""
    book = load(rules_folder(), own_rules_folder(options.rules), options.language)
    if book.language == ENGLISH or (found := progress(book, family)).is_complete:
        return book
    told = f"{family} is used in English until it is complete in {book.language.name}"
    print(f"underchassis: {told}: {_how_far(found)}.", file=sys.stderr)
    return _book(options)


def _rules(options: argparse.Namespace) -> None:
    books = _books(options)
    if options.missing is not None:
        _missing(books, options.missing)
        return
    book = books.english
    for family in book.families.values():
        answers = sum(len(check.options) for check in family.checks)
        _say(
            f"{family.id}: {len(family.parts)} parts, {len(family.checks)} checks with {answers} options, "
            f"{len(family.tasks)} tasks, {len(family.places)} places for holes"
        )
    _say(f"model sheets: {', '.join(sorted(book.sheets)) or 'none'}")
    counts = rows_by_basis(book)
    rows = ", ".join(f"{count} {basis}" for basis, count in counts.items())
    _say(f"{sum(counts.values())} rows, by what they rest on: {rows}")
    for code, further in books.further.items():
        for family_id in book.families:
            _say(f"{code}, {family_id}: {_how_far(progress(further, family_id))}")
    _say("The rule tables hold together.")


def _how_far(found: Progress) -> str:
    """How many texts of a family are there in a language, and where it is nearly complete what is not."""
    if found.is_complete:
        return f"complete, all {found.texts} texts"
    there = f"{found.texts - len(found.missing)} of {found.texts} texts"
    if len(found.missing) > _NEARLY:
        return there
    named = "; ".join(missing.place for missing in found.missing[:_NAMED])
    more = len(found.missing) - _NAMED
    return f"{there}; missing: {named}{f'; and {more} more' if more > 0 else ''}"


def _missing(books: Books, family: str) -> None:
    """What each language lacks of a family, a line a text; raises NotKnown."""
    books.english.family(family)
    if not books.further:
        _say("The tables are in English alone: no folder has language tables.")
    for code, book in books.further.items():
        found = progress(book, family)
        for missing in found.missing:
            _say(f"{missing.place} = {json.dumps(missing.english, ensure_ascii=False)}")
        _say(f"{code}, {family}: {_how_far(found)}")


def _measure(options: argparse.Namespace) -> None:
    # The table of holes and the figures for measuring are alike in every family.
    book = _book(options)
    _print(measure_command.measured(options, pack_of(book, next(iter(book.families)), None)))


def _tags(options: argparse.Namespace) -> None:
    document = tags_command.document_of(options)
    if options.out:
        write_document(document, options.out)
    else:
        _say(document)


def _backup(options: argparse.Namespace) -> None:
    _say(backup_command.backup(options))


def _restore(options: argparse.Namespace) -> None:
    _say(backup_command.restore(options))


def _read_json(name: str, largest: int = _LARGEST_FILE) -> Any:
    try:
        raw = sys.stdin.buffer.read(largest + 1) if name == "-" else _read_bytes(Path(name), largest)
        if len(raw) > largest:
            raise BadFile(f'"{name}" is larger than {largest // 1_000_000} MB.', "Is it a findings file?")
        return json.loads(raw.decode("utf-8-sig"), object_pairs_hook=_no_twins)
    except OSError as error:
        raise BadFile(f'"{name}" cannot be read: {error.strerror}.', "Check the name.") from error
    except UnicodeDecodeError as error:
        raise BadFile(f'"{name}" is not UTF-8 text.', "Save it as UTF-8.") from error
    except json.JSONDecodeError as error:
        raise BadFile(f'"{name}" is not JSON: {error.msg} at line {error.lineno}.') from error
    except (RecursionError, ValueError) as error:
        raise BadFile(
            f'"{name}" is not usable JSON.', "It is nested too deeply or holds a number too long."
        ) from error


def _read_bytes(path: Path, largest: int) -> bytes:
    with path.open("rb") as file:
        return file.read(largest + 1)


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    document: dict[str, Any] = {}
    for key, value in pairs:
        if key in document:
            raise BadFile(f'The key "{key}" stands twice in one object.', "Keep one of the two.")
        document[key] = value
    return document


def _print(document: Any) -> None:
    text = json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False)
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        text = json.dumps(document, indent=1, allow_nan=False)
    _say(text)


def _say(text: str) -> None:
    try:
        print(text, flush=True)
    except BrokenPipeError:
        raise
    except OSError as error:
        _write_no_more()
        raise BadFile(f"The output cannot be written: {error.strerror}.") from error


if __name__ == "__main__":
    sys.exit(main())
