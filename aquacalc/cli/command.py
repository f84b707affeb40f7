"""The command `aquacalc`: one function a verb, each returns the exit status.

0 done; 1 an `emergency` finding, with `--strict`; 2 input that cannot be used, one sentence a line on
standard error; 3 the run itself failed.
"""

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from aquacalc import __version__
from aquacalc.cli.terminal import complain, finish, put
from aquacalc.errors import InputError, Problem
from aquacalc.workshop.audience import AUDIENCES, MOST_PEOPLE, PEOPLE

if TYPE_CHECKING:
    from aquacalc.advice.finding import Finding
    from aquacalc.cli.many import Told
    from aquacalc.many.checks import What
    from aquacalc.words import Reader

DONE, EMERGENCY, BAD_INPUT, RUN_FAILED = 0, 1, 2, 3
MOST_MEMBERS = 10_000
LARGEST_SEED = 10**9
MOST_GARDENS = 3

DISK_FULL = "problem-disk-full"
"""The one problem that is no fault of what was typed."""

GARDEN_HELP = "a garden file, a folder that holds garden.toml, or demo:NAME"
GARDENS_HELP = f"{GARDEN_HELP}; several of them, or a folder of gardens, for a summary of all"
MOST_JOBS = 1000


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a command line in one line."""

    def error(self, message: str) -> NoReturn:
        complain(f"{self.prog}: {message}; see {self.prog} --help")
        raise SystemExit(BAD_INPUT)

    def _print_message(self, message: str, file: Any = None) -> None:
        # The library keeps silent about a disk that is full.
        if message:
            put(message.removesuffix("\n"))


def parser() -> argparse.ArgumentParser:
    """All verbs with their options."""
    whole = _Parser(
        prog="aquacalc",
        description="Size, check and plan a loop of fish, bacteria and vegetables.",
        epilog="Example: aquacalc check demo:yard",
    )
    whole.add_argument("--version", action="version", version=f"aquacalc {__version__}")
    verbs = whole.add_subparsers(required=True, metavar="VERB", parser_class=_Parser)

    new = _verb(
        verbs, "new", "make a folder with a starter garden and the notebooks", "aquacalc new my-garden"
    )
    new.add_argument("folder", type=Path, help="where to; files that are there already are left as they are")
    new.set_defaults(verb=_new)

    show = _verb(verbs, "open", "open the workbook in a browser, as pages", "aquacalc open my-garden")
    show.add_argument("folder", type=Path, nargs="?", default=Path(), help="default: the current folder")
    show.add_argument("--lab", action="store_true", help="in JupyterLab, to explore and change the notebooks")
    show.add_argument("--no-browser", action="store_true", help="start the server, open no window")
    show.set_defaults(verb=_open)

    room = _verb(
        verbs,
        "serve",
        "show the workbook to everybody in a workshop's network, each with a garden of their own",
        "aquacalc serve my-garden --lan --audience 12-15",
    )
    room.add_argument("folder", type=Path, nargs="?", default=Path(), help="default: the current folder")
    room.add_argument("--lan", action="store_true", required=True, help="yes, the network may look in")
    room.add_argument(
        "--audience",
        choices=list(AUDIENCES),
        default="adults",
        help="the first two get no page that doses or kills; default: adults",
    )
    room.set_defaults(verb=_serve)

    check = _verb(
        verbs, "check", "print the balance and what to act on", "aquacalc check demo:yard --units us"
    )
    _many(check)
    _json(check)
    _sources(check)
    _reading(check)
    check.set_defaults(verb=_check)

    reading = _verb(
        verbs,
        "reading",
        "judge one reading of the water: what it means, what to do, what not, when to test again",
        "aquacalc reading demo:yard tan=2 ph=7.6 temp=79",
    )
    reading.add_argument(
        "typed",
        nargs="*",
        metavar="[GARDEN] NAME=VALUE",
        help="a garden if there is one, then readings: tan, nitrite, nitrate, ph, temp, oxygen, kh, gh, "
        "chlorine, chloride, ec, salt, with unit or basis where it is known (tan='2 NH3' temp=79F kh='4 dKH' "
        "nitrite='<0.3' salt='0.3 g/L'), "
        "nitrite='5 x4' of a sample thinned four times; what fish show: signs=gasping, bottom, jumping or "
        "'brown gills', several by comma; what a water change brings: new-water='chloramine 2, nitrate 5 NO3'"
        "; without a garden also fish=SPECIES, fish=warm or fish=cold, and litres=1000",
    )
    _json(reading)
    _sources(reading)
    _reading(reading)
    reading.set_defaults(verb=_judge)

    forecast = _verb(
        verbs,
        "forecast",
        "the water of the next days hour by hour, from the air of a forecast, and what takes most of it off",
        "aquacalc forecast demo:yard 34/22 36/24 --water 25 --bottles 6",
    )
    forecast.add_argument("garden", help=GARDEN_HELP)
    forecast.add_argument(
        "days",
        nargs="+",
        metavar="HIGH/LOW",
        help="highest and lowest air of each day, in the garden's units",
    )
    forecast.add_argument(
        "--water", default="", metavar="TEMPERATURE", help="water at eight of the first day; default: usual"
    )
    forecast.add_argument(
        "--sky", choices=["clear", "half", "overcast"], default="clear", help="default: clear"
    )
    forecast.add_argument(
        "--bottles", type=float, default=0.0, metavar="N", help="frozen bottles of two litres a day"
    )
    _reading(forecast)
    forecast.set_defaults(verb=_forecast)

    parts = _verb(
        verbs,
        "parts",
        "list what the loop is made of, rounded up to packs, with spares",
        "aquacalc parts demo:yard --csv parts.csv",
    )
    parts.add_argument("garden", help=GARDEN_HELP)
    parts.add_argument("--csv", type=Path, metavar="FILE", help="write the list for a spreadsheet")
    parts.add_argument("--units", choices=["metric", "us"], help="default: the garden file's")
    parts.set_defaults(verb=_parts)

    log = _verb(
        verbs,
        "log",
        "read the log beside a garden: repairs, doubts, findings, trends",
        "aquacalc log demo:yard",
    )
    _many(log)
    log.add_argument(
        "--dates",
        choices=["day-month", "month-day"],
        help="what 3/4/27 means in this log; default: as its line “# dates: ...” or its other rows say",
    )
    log.add_argument(
        "--against-season",
        action="store_true",
        help="compare the readings with the season of the garden file, run over the days of the log",
    )
    _json(log)
    _sources(log)
    _reading(log)
    log.set_defaults(verb=_log)

    season = _verb(
        verbs,
        "season",
        "write the season plan: HTML, PDF, tables, calendar and the notebook that made it",
        "aquacalc season demo:yard --out plan --paper both",
    )
    _many(season)
    season.add_argument(
        "--out",
        type=Path,
        help="folder to write; default: season-plan in the current folder, season-plans for many",
    )
    season.add_argument("--members", default="", metavar="N", help="tries that are drawn; default 200")
    season.add_argument("--seed", default="", metavar="N", help="start of the draw; default 1")
    season.add_argument("--paper", choices=["a4", "letter", "both"], help="default: the garden file's")
    season.add_argument(
        "--from",
        dest="start",
        default="",
        metavar="DATE",
        help="first day, as 2027-03-01; the plan then goes to the end of the file's season",
    )
    _reading(season)
    season.set_defaults(verb=_season)

    plan = _verb(
        verbs,
        "plan",
        "say what would make a good year: which changes, what each brings and costs, what breaks without it",
        "aquacalc plan demo:yard",
    )
    plan.add_argument("garden", help=GARDEN_HELP)
    plan.add_argument("--seed", default="", metavar="N", help="start of the draw; default 1")
    plan.add_argument("--units", choices=["metric", "us"], help="default: the garden file's")
    done = plan.add_mutually_exclusive_group()
    done.add_argument(
        "--accept",
        default="",
        metavar="WHICH",
        help="type changes of the open proposal into the garden file: all, or their numbers as 1,3",
    )
    done.add_argument("--undo", action="store_true", help="put the garden file back as it was before")
    done.add_argument(
        "--crops",
        action="store_true",
        help="plan only the beds: which crop goes into which bed in which week, for the wished heads",
    )
    plan.add_argument("--to", type=Path, metavar="FOLDER", help="accept into a new garden, as of a demo")
    plan.set_defaults(verb=_plan)

    compare = _verb(
        verbs,
        "compare",
        "put two or three gardens side by side on the same tries: what each gives, holds and costs",
        "aquacalc compare demo:yard my-yard",
    )
    compare.add_argument("garden", help=GARDEN_HELP)
    compare.add_argument("others", nargs="+", metavar="GARDEN", help="one or two more")
    compare.add_argument("--seed", default="", metavar="N", help="start of the draw; default 1")
    compare.add_argument("--units", choices=["metric", "us"], help="default: the first garden file's")
    compare.set_defaults(verb=_compare)

    workshop = _verb(
        verbs,
        "workshop",
        "write the pack of a workshop: run sheet, hand-outs, exercises, answers",
        "aquacalc workshop demo:classroom pack --audience 12-15 --paper both",
    )
    workshop.add_argument("garden", help=GARDEN_HELP)
    workshop.add_argument("folder", type=Path, help="folder to write; only an older pack is replaced")
    workshop.add_argument(
        "--audience",
        choices=list(AUDIENCES),
        default="adults",
        help="adults get two hours, classes five lessons; the first two get no sheet that doses or kills",
    )
    workshop.add_argument("--people", default="", metavar="N", help="how many come; default 16 to 28")
    workshop.add_argument("--seed", default="", metavar="N", help="of the exercises' numbers; default 1")
    workshop.add_argument("--paper", choices=["a4", "letter", "both"], help="default: the garden file's")
    workshop.add_argument("--units", choices=["metric", "us"], help="default: the garden file's")
    workshop.set_defaults(verb=_workshop)
    return whole


def _verb(
    verbs: "argparse._SubParsersAction[_Parser]", name: str, what: str, example: str
) -> argparse.ArgumentParser:
    epilog = f"Example: {example}"
    return verbs.add_parser(name, help=what, description=f"{what[0].upper()}{what[1:]}.", epilog=epilog)


def _many(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("gardens", nargs="+", metavar="GARDEN", help=GARDENS_HELP)
    by = verb.add_mutually_exclusive_group()
    by.add_argument("--jobs", default="", metavar="N", help="gardens worked at once; default: one a core")
    by.add_argument("--cluster", default="", metavar="ADDRESS", help="a running Dask cluster does the work")


def _sources(verb: argparse.ArgumentParser) -> None:
    verb.add_argument(
        "--sources", action="store_true", help="also say which texts the answer rests on, and how well known"
    )


def _json(verb: argparse.ArgumentParser) -> None:
    verb.add_argument(
        "--json", action="store_true", help="the answer for a script, as docs/answers.schema.json says"
    )


def _reading(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--units", choices=["metric", "us"], help="default: the garden file's")
    verb.add_argument("--strict", action="store_true", help="exit status 1 where something is an emergency")


def main(argv: Sequence[str]) -> int:
    """Run the command with these arguments and return its exit status."""
    words_, handed_on = _split(argv)
    try:
        status = _run(words_, handed_on)
        finish()
    except InputError as error:
        return _refuse(error)
    except OSError as fault:
        return _cannot_go_on(fault)
    return status


def _run(words_: Sequence[str], handed_on: Sequence[str]) -> int:
    try:
        chosen = parser().parse_args(words_)
    except SystemExit as stop:  # how argparse ends after --help and after a wrong command line
        return int(stop.code or DONE)
    chosen.handed_on = handed_on
    return int(chosen.verb(chosen))


def _split(argv: Sequence[str]) -> tuple[list[str], list[str]]:
    # What stands behind `--` is for the server.
    given = list(argv)
    if "--" not in given:
        return given, []
    at = given.index("--")
    return given[:at], given[at + 1 :]


def _refuse(error: InputError) -> int:
    from aquacalc import words

    for problem in error.problems:
        complain(words.problem(problem, words.Reader()))
    return RUN_FAILED if any(one.key == DISK_FULL for one in error.problems) else BAD_INPUT


def _cannot_go_on(fault: OSError) -> int:
    """The machine refused: a full disk behind the output, for example."""
    from aquacalc import disk, words

    place = "" if fault.filename is None else str(fault.filename)
    key = "run-stopped-at" if place else "run-stopped"
    complain(words.say(key, words.Reader(), place=place, reason=disk.reason(fault)))
    return RUN_FAILED


def _new(chosen: argparse.Namespace) -> int:
    from aquacalc import words
    from aquacalc.cli import folders

    reader = words.Reader()
    made = folders.make(chosen.folder)
    folder = str(chosen.folder)
    if made.written:
        put(words.say("new-made", reader, folder=folder, files=words.listed(made.written, reader)))
    if made.kept:
        put(words.say("new-kept", reader, files=words.listed(made.kept, reader)))
    put(words.say("new-next", reader, folder=folder))
    return DONE


def _open(chosen: argparse.Namespace) -> int:
    if not chosen.folder.is_dir():
        raise InputError(Problem("problem-not-a-folder", found=str(chosen.folder)))
    browser = not chosen.no_browser
    if chosen.lab:
        from aquacalc.serve import lab

        lab.serve(chosen.folder, browser, chosen.handed_on)
        return DONE
    from aquacalc import words
    from aquacalc.serve import pages

    def ready(addresses: pages.Addresses) -> None:
        put(words.say("open-ready", words.Reader(), address=addresses.pages))
        finish()

    pages.serve(chosen.folder, browser, ready, chosen.handed_on)
    return DONE


def _serve(chosen: argparse.Namespace) -> int:
    if not chosen.folder.is_dir():
        raise InputError(Problem("problem-not-a-folder", found=str(chosen.folder)))
    import tempfile

    from aquacalc import words
    from aquacalc.serve import pages, wall
    from aquacalc.serve.visitors import Visitors

    reader = words.Reader()

    def ready(addresses: pages.Addresses) -> None:
        put(words.say("serve-ready", reader, address=addresses.pages))
        put(words.say("serve-class", reader, address=addresses.facilitator))
        put(words.say("serve-wall", reader, file=str(wall.write(addresses.pages, chosen.folder))))
        put(words.say("serve-trust", reader))
        finish()

    with tempfile.TemporaryDirectory(prefix="aquacalc-") as home:
        visitors = Visitors(chosen.folder.resolve(), Path(home), chosen.audience)
        pages.serve(chosen.folder, False, ready, chosen.handed_on, visitors)
    return DONE


def _check(chosen: argparse.Namespace) -> int:
    from aquacalc.advice import findings
    from aquacalc.cli import check
    from aquacalc.garden.file import GardenFile
    from aquacalc.schedule import problems
    from aquacalc.sizing.changes import balance_with_changes

    if _are_many(chosen):
        return _levels(chosen, "check")
    garden = GardenFile.open(chosen.gardens[0]).garden
    if strange := problems.problems(garden):
        raise InputError(strange)
    reader = _reader(garden.reader, chosen)
    balance = balance_with_changes(garden)
    found = findings.of_both(garden, balance)
    if chosen.json:
        from aquacalc.cli import answers

        put(answers.text(answers.of_check(garden, balance, found, reader)))
        return _status(found, chosen)
    for line in check.lines(garden, balance, found, reader, chosen.sources):
        put(line)
    return _status(found, chosen)


def _judge(chosen: argparse.Namespace) -> int:
    from aquacalc import words
    from aquacalc.advice.reading import actions, given, pairs
    from aquacalc.cli import reading

    name, typed = reading.parted(chosen.typed)
    garden, problems = None, []
    if name:
        from aquacalc.garden.file import GardenFile

        try:
            garden = GardenFile.open(name).garden
        except InputError as error:
            problems = list(error.problems)
    try:
        told = given.read(typed, garden)
    except InputError as error:
        # Bare degrees may be right in the units of a garden that cannot be read.
        lost = bool(problems)
        problems += [one for one in error.problems if not (lost and one.key in pairs.GARDEN_MAY_MEND)]
        raise InputError(problems) from None
    if problems:
        raise InputError(problems)
    answer = actions.answer(told)
    reader = _reader(garden.reader if garden else words.Reader(), chosen)
    status = EMERGENCY if chosen.strict and answer.judgement.level == "emergency" else DONE
    if chosen.json:
        from aquacalc.cli import answers

        put(answers.text(answers.of_reading(answer, reader)))
        return status
    for line in reading.lines(answer, reader, chosen.sources):
        put(line)
    return status


def _forecast(chosen: argparse.Namespace) -> int:
    from aquacalc.cli import forecast
    from aquacalc.garden.file import GardenFile

    garden = GardenFile.open(chosen.garden)
    reader = _reader(garden.garden.reader, chosen)
    asked = forecast.asked(garden, chosen.days, chosen.water, chosen.sky, chosen.bottles, reader)
    answer = forecast.answer(garden.garden, asked)
    for line in forecast.lines(answer, reader):
        put(line)
    return EMERGENCY if chosen.strict and answer.level == "emergency" else DONE


def _parts(chosen: argparse.Namespace) -> int:
    from aquacalc import disk, spreadsheet
    from aquacalc.cli.terminal import table
    from aquacalc.garden.file import GardenFile
    from aquacalc.sentences import parts as sentences
    from aquacalc.sizing.parts import parts_of

    garden = GardenFile.open(chosen.garden).garden
    reader = _reader(garden.reader, chosen)
    head, rows = sentences.head(reader)[:4], [row[:4] for row in sentences.rows(parts_of(garden), reader)]
    if chosen.csv is None:
        for line in table(head, rows):
            put(line)
    else:
        disk.replace_whole(chosen.csv, spreadsheet.text([head, *rows]).encode())
        put(str(chosen.csv))
    return DONE


def _log(chosen: argparse.Namespace) -> int:
    from aquacalc.advice import log as advice
    from aquacalc.cli import log
    from aquacalc.garden.file import GardenFile

    if _are_many(chosen):
        return _levels(chosen, "log")
    file = GardenFile.open(chosen.gardens[0])
    reader = _reader(file.garden.reader, chosen)
    found = log.read(file, chosen.dates or "")
    told = advice.told_by(file.garden, found.log)
    status = EMERGENCY if chosen.strict and told is not None and told.level == "emergency" else DONE
    if chosen.json:
        from aquacalc.cli import answers

        put(answers.text(answers.of_log(file.garden, found, told, reader)))
        return status
    written = log.write(file, found, reader)
    run = None
    if chosen.against_season and found.log.rows:
        from aquacalc.advice import log_season

        run = log_season.season(file.garden, found.log)
    for line in log.lines(file.garden, found, told, written, reader, run):
        put(line)
    if chosen.sources and told is not None:
        for line in log.sources(told, reader):
            put(line)
    return status


def _season(chosen: argparse.Namespace) -> int:
    from aquacalc import uncertainty, words
    from aquacalc.report import season

    members = _whole(chosen.members, "--members", 2, MOST_MEMBERS)
    seed = _whole(chosen.seed, "--seed", 0, LARGEST_SEED)
    if _are_many(chosen):
        return _plans(chosen, members or uncertainty.MEMBERS, uncertainty.SEED if seed is None else seed)
    try:
        written = season.season(
            chosen.gardens[0],
            chosen.out,
            members=members or uncertainty.MEMBERS,
            seed=uncertainty.SEED if seed is None else seed,
            paper=chosen.paper or "",
            units=chosen.units or "",
            progress=put,
            start=chosen.start,
        )
    except season.RunFailed as failure:
        complain(str(failure))
        return RUN_FAILED
    reader = words.Reader()
    files = words.listed([path.name for path in (written.html, *written.pdfs, *written.data)], reader)
    put(words.say("season-made", reader, folder=str(written.folder), files=files))
    if not written.pdfs:
        put(words.say("season-print-yourself", reader, page=str(written.html)))
    return EMERGENCY if chosen.strict and "emergency" in written.levels else DONE


def _workshop(chosen: argparse.Namespace) -> int:
    from aquacalc import uncertainty, words
    from aquacalc.report import season, workshop

    people = _whole(chosen.people, "--people", 1, MOST_PEOPLE)
    seed = _whole(chosen.seed, "--seed", 0, LARGEST_SEED)
    try:
        written = workshop.write(
            chosen.garden,
            chosen.folder,
            chosen.audience,
            people or PEOPLE[chosen.audience],
            uncertainty.SEED if seed is None else seed,
            chosen.paper or "",
            chosen.units or "",
            put,
        )
    except season.RunFailed as failure:
        complain(str(failure))
        return RUN_FAILED
    reader = words.Reader()
    files = words.listed([path.name for path in (*written.pages, *written.pdfs)], reader)
    put(words.say("workshop-made", reader, folder=str(written.folder), files=files))
    if not written.pdfs:
        put(words.say("season-print-yourself", reader, page=str(written.pages[0])))
    return DONE


def _are_many(chosen: argparse.Namespace) -> bool:
    """Whether the command line means several gardens; one alone is worked here, whatever else is offered."""
    from aquacalc.many import gardens

    return bool(chosen.cluster) or gardens.are_many(chosen.gardens)


def _plans(chosen: argparse.Namespace, members: int, seed: int) -> int:
    from aquacalc.cli import many
    from aquacalc.many.gardens import Named
    from aquacalc.many.seasons import Job

    def job(named: Named, out: Path) -> Job:
        return Job(named, out, members, seed, chosen.paper or "", chosen.units or "", chosen.start)

    return _status_of_many(many.plans(chosen.gardens, chosen.out, _jobs(chosen), chosen.cluster, job), chosen)


def _levels(chosen: argparse.Namespace, what: "What") -> int:
    from aquacalc.cli import many

    if chosen.json:
        raise InputError(Problem("problem-json-one", "--json", " ".join(chosen.gardens)))
    return _status_of_many(many.levels(chosen.gardens, what, _jobs(chosen), chosen.cluster), chosen)


def _jobs(chosen: argparse.Namespace) -> int:
    from aquacalc import executors

    return _whole(chosen.jobs, "--jobs", 1, MOST_JOBS) or executors.cores()


def _status_of_many(told: "Told", chosen: argparse.Namespace) -> int:
    if told.failed:
        return RUN_FAILED
    if told.refused:
        return BAD_INPUT
    return EMERGENCY if chosen.strict and told.urgent else DONE


def _plan(chosen: argparse.Namespace) -> int:
    from aquacalc.cli import plan

    if chosen.accept:
        plan.accept(chosen.garden, chosen.accept, chosen.to)
    elif chosen.undo:
        plan.undo(chosen.garden)
    elif chosen.crops:
        plan.plant(chosen.garden, chosen.units or "")
    else:
        seed = _whole(chosen.seed, "--seed", 0, LARGEST_SEED)
        plan.propose(chosen.garden, chosen.units or "", seed)
    return DONE


def _compare(chosen: argparse.Namespace) -> int:
    from aquacalc.cli import compare

    names = [chosen.garden, *chosen.others]
    if len(names) > MOST_GARDENS:
        raise InputError(Problem("problem-range", "compare", str(len(names)), ("2", str(MOST_GARDENS), "")))
    compare.compare(names, chosen.units or "", _whole(chosen.seed, "--seed", 0, LARGEST_SEED))
    return DONE


def _whole(text: str, option: str, low: int, high: int) -> int | None:
    """A whole number of the command line; None where the option was not given."""
    if not text:
        return None
    from aquacalc import units

    value = units.read_number(text, option)
    if value != int(value) or not low <= value <= high:
        raise InputError(Problem("problem-range", option, text, (str(low), str(high), "")))
    return int(value)


def _reader(own: "Reader", chosen: argparse.Namespace) -> "Reader":
    return replace(own, units=chosen.units) if chosen.units else own


def _status(found: "Sequence[Finding]", chosen: argparse.Namespace) -> int:
    urgent = any(finding.level == "emergency" for finding in found)
    return EMERGENCY if chosen.strict and urgent else DONE


def run() -> None:
    """Entry point of the installed command."""
    try:
        status = main(sys.argv[1:])
    except KeyboardInterrupt:
        status = 130  # as shells count a stop by Ctrl-C
    sys.exit(status)
