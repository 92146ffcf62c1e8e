"""Invented cards of every page, for looking at the templates without a book. People, specimens and times are made up.

Past five hundred lines on purpose: it is one table of sample data, a card after a card, and no logic to look for.
"""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from bonebench import web
from bonebench.figures import Basis, Standing
from bonebench.said import said
from bonebench.services.baths.cards import MixCard
from bonebench.services.cards import Alert, Answer, Caution, EntryCard, Fact, Flag, Ready, SpeciesName
from bonebench.services.catchup.cards import CatchUpCard, SilentCard, WalkCard
from bonebench.services.photos.cards import PhotoCard, PhotosCard
from bonebench.services.photos.colour import ColourCard, ProgressCard
from bonebench.services.rooms.cards import FeatureCard, MethodCard, PlaceCard, RoomCard, SitsCard, WorkerCard
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard, SpeciesRow, ValueCard
from bonebench.services.specimens.cards import (
    LegCard,
    PartCard,
    ProblemCard,
    SpecimenCard,
    SpecimenListCard,
    SpecimenRow,
    StateCard,
    TeethCard,
)
from bonebench.services.teeth.cards import TeethChartCard, ToothCard
from bonebench.services.today.cards import HazardCard, LeavingCard, Member, TaskCard, TickCard, TodayCard
from bonebench.shop.cautions import Level
from bonebench.shop.steps import STEP_ORDER, PlaceKind, Step
from bonebench.units import Reader
from bonebench.web.pages.teeth import STATES, Form, quarters
from bonebench.web.writing import filters
from tests.web.sample_papers import PAPER_PAGES

from . import sample_keeping as kept

ZONE = ZoneInfo("America/Chicago")
TEMPLATES = Path(web.__file__).parent / "templates"
DAY = date(2026, 5, 9)
NOW = datetime(2026, 5, 9, 13, 30, tzinfo=UTC)
READER = Reader("metric", DAY)

COYOTE = SpeciesName("canis-latrans", "coyote", "Canis latrans")
DEER = SpeciesName("odocoileus-virginianus", "white-tailed deer", "Odocoileus virginianus")
RACCOON = SpeciesName("procyon-lotor", "raccoon", "Procyon lotor")
MOUSE = SpeciesName("peromyscus-leucopus", "white-footed mouse", "Peromyscus leucopus")


def ago(days: float) -> datetime:
    return NOW - timedelta(days=days)


def caution(key: str, level: str, hazard: str, when: str, do: str) -> Caution:
    return Caution(
        key=key,
        hazard=said(f"{key}.hazard", hazard),
        when=said(f"{key}.when", when),
        do=said(f"{key}.do", do),
        source="a source of this preview, read",
        standing=Standing.PUBLISHED,
        level=Level(level),
    )


STOP = caution(
    "peroxide-strong",
    "stop",
    "Peroxide of 35 % burns skin white in seconds and blinds.",
    "pouring or thinning from the bottle",
    "Goggles, face shield and long rubber gloves on before the cap comes off. Water within reach for fifteen minutes of rinsing.",
)
STRONG = caution(
    "pressure",
    "strong",
    "A closed lid bursts: peroxide gives off oxygen for days.",
    "any tub or bottle with peroxide in it",
    "Leave the lid loose, the vent of the bottle free, and no metal in the bath.",
)
READ = caution(
    "label",
    "read",
    "A tub without a name looks like water.",
    "as soon as it is filled",
    "Write on it what is in it, how strong, and the day.",
)
DEFER = caution(
    "defer",
    "read",
    "What is written here is no law and no medical advice.",
    "always",
    "Defer to local codes and licensed practice.",
)
SCALD = caution(
    "scald",
    "strong",
    "Hot detergent scalds and its steam does too.",
    "lifting pieces from the hot pot",
    "Switch off, let it cool below 45 °C, lift with tongs, lid away from the face.",
)


def answer(key: str, label: str, kind: str, subject: str = "specimen:01", task: str | None = "t-1", **values: Any) -> Answer:
    return Answer(key, said(f"tap.{key}", label), kind, (subject,), values, task)


def task(number: int, place: str, tag: str, species: SpeciesName, action: str, why: str, **more: Any) -> TaskCard:
    plain: dict[str, Any] = {
        "id": f"task-{number}",
        "place": place.lower(),
        "place_name": place,
        "specimen": tag,
        "specimen_id": f"s-{number}",
        "species": species,
        "about": said("about.specimen", "{tag}, {species}", tag=tag, species=species.common),
        "action": said("do", action, tag=tag),
        "why": said("why", why),
        "due_from": DAY,
        "due_by": None,
        "late_days": 0,
        "minutes": 10.0,
        "who": None,
        "answers": (answer("done", "Done", "done", step="teeth in", visit=1),),
        "cautions": (),
    }
    return TaskCard(**(plain | more))


def round_task(number: int, place: str, name: str, action: str, look: str, *wrongs: str, **more: Any) -> TaskCard:
    subject, due = (f"place:{place}",), {"round": f"round-{number}", "due": "2026-05-09"}
    taps = [Answer("done", said("tap.round", "Done"), "round-done", subject, due, f"r-{number}")]
    taps += [
        Answer(wrong, said("tap.wrong", wrong), "round-done", subject, {**due, "wrong": wrong}, f"r-{number}") for wrong in wrongs
    ]
    plain: dict[str, Any] = {
        "specimen": None,
        "specimen_id": None,
        "about": said("round", name),
        "look": said("look", look),
        "due_by": DAY,
        "minutes": 2.0,
        "answers": tuple(taps),
        "cautions": (READ, DEFER),
    }
    return replace(task(number, place, "", MOUSE, action, "a small thing found early stays small", **(plain | more)), species=None)


def member(number: int) -> Member:
    return Member(f"m-{number}", f"M{number}H-2", MOUSE, (f"specimen:m-{number}/skull", f"specimen:m-{number}/mandible"))


BOX_ROUNDS = (
    round_task(
        11, "Beetle box", "Water", "Wet the pad of Beetle box; never onto bones or bedding", "pad damp, not dripping", "Pad dry"
    ),
    round_task(12, "Beetle box", "Heat", "Read the thermometer of Beetle box", "between 23 and 29 °C", "Too cold", "Too hot"),
    round_task(13, "Beetle box", "Screens", "Look at every screen, light behind it", "no hole, no lint", "Hole", "Clogged"),
    round_task(
        14, "Beetle box", "Blocks", "Look at the blocks", "room left to bore", "Full", "Boring into bone", "Boring into foam"
    ),
)
POT_HARM = said("hazard", "Hot pot, about eight hours: splits teeth and burns hands.")
ACKNOWLEDGE = Answer(
    "acknowledge",
    said("tap.acknowledge", "I have read this and do it so"),
    "hazard-acknowledged",
    ("room",),
    {"method": "hot-pot", "person": "p-1"},
)
LEAVING = LeavingCard(
    ticks=tuple(
        TickCard(key, said("t", tap), said("w", why), said("n", if_not))
        for key, tap, why, if_not in (
            ("lid", "Lid shut, clip on", "A lid left open lets beetles out.", "Shut it; look along the wall."),
            ("heater", "Heaters guarded and clear", "Dry bedding on a lamp burns.", "Clear it. In doubt pull the plug."),
            ("fence", "Fence on, gate shut", "Racks and scraps smell to a bear.", "Switch it on and listen for its tick."),
            ("gas", "Gas: no smell; off", "A flame left alone can die.", "Shut it off at the cylinder."),
            ("alarm", "Alarms: light on, no chirp", "Without a battery it is a box on the wall.", "Change the battery now."),
            ("door", "Door shut and locked", "Children, dogs and pests come in.", "Go back and lock it."),
        )
    ),
    answer=Answer("left", said("tap.left", "Left the room"), "left", ("place:room",), {"ticks": ["lid"]}),
    last_left=ago(0.7),
    left_today=False,
)

TODAY = TodayCard(
    date=DAY,
    room="Tallgrass Hollow preparation room",
    zone="America/Chicago",
    demo=True,
    plan_made=ago(0.1),
    plan_rule="earliest due",
    minutes=107.0,
    alerts=(
        Alert("act", said("a", "C7M-4: insects"), said("a.why", "said on {day:day}, not settled yet", day=date(2026, 5, 8))),
        Alert(
            "look",
            said("alert.silent", "nobody wrote a word for {days:days}", days=4.0),
            said("alert.silent.why", "walk the room once and say what is still there: catch up"),
        ),
        Alert(
            "look",
            said("b", "no time in the plan for D3R-J, D9K-P"),
            said("b.why", "nobody who is trained for the pot works before 16 May"),
        ),
    ),
    tasks=(
        task(
            1,
            "Glue bench",
            "B2F-H",
            RACCOON,
            "Put the teeth of {tag} back in",
            "dry was on 7 May; this comes next; promised for 15 May",
            minutes=35.0,
            who="Odile",
            gloves=said("gloves.clean", "Clean hands or fresh thin gloves: teeth, glue, finished bone"),
            due_by=date(2026, 5, 12),
            answers=(answer("done", "Teeth in", "done", step="teeth in", visit=1),),
        ),
        task(
            2,
            "Rinse water",
            "C4T-8",
            COYOTE,
            "Take {tag} out of the peroxide, into Rinse water",
            "whiten since 6 May, 3 days; it takes about 2 days, from 1 day to 4 days (common practice, no source)",
            late_days=1,
            due_by=date(2026, 5, 8),
            gloves=said("gloves.peroxide", "Change: goggles and long gloves, peroxide from here on"),
            minutes=8.0,
            cautions=(STOP, STRONG, READ, DEFER),
            answers=(answer("move", "Rinsing", "moved", place="rinse", step="rinse", visit=1),),
        ),
        task(
            3,
            "Beetle box",
            "D3R-J",
            DEER,
            "Look at {tag} in the box: is it clean?",
            "in the box since 1 May, 8 days; by now there should be little left",
            gloves=said("gloves.beetles", "Change: gloves and mask, beetles and dust from here on"),
            minutes=2.0,
            answers=(
                answer("clean", "Clean", "done", step="judged clean", visit=1),
                answer("not-yet", "Not yet", "looked", step="judged clean", visit=1),
            ),
        ),
        task(
            4,
            "Beetle box",
            "D9K-P",
            COYOTE,
            "Take {tag} out, shake it over the box, bag it",
            "one more day was on 8 May; this comes next",
            cautions=(READ, DEFER),
        ),
        task(
            8,
            "Beetle box",
            "",
            MOUSE,
            "Look at all 3 in the box: is it clean?",
            "in the box since 7 May, 2 days",
            specimen=None,
            specimen_id=None,
            about=said("about.tray", "3 together: M1H-2, M2H-2, M3H-2"),
            members=tuple(member(n) for n in (1, 2, 3)),
            answers=tuple(
                replace(
                    answer(key, label, kind, step="judged clean", visit=1),
                    subjects=tuple(s for n in (1, 2, 3) for s in member(n).subject),
                )
                for key, label, kind in (("clean", "Clean", "done"), ("not-yet", "Not yet", "looked"))
            ),
        ),
        *BOX_ROUNDS,
        round_task(
            15,
            "Freezer",
            "Cold",
            "Read the thermometer in the freezer",
            "colder than -18 °C",
            "Too warm",
            late_days=2,
            due_by=date(2026, 5, 7),
            gloves=said("gloves.raw", "Change: double gloves, eyes covered, raw heads from here on"),
        ),
        task(
            9,
            "Freezer",
            "E7W-2",
            DEER,
            "Put {tag} in the hot pot",
            "out was on 8 May; this comes next",
            hazard=HazardCard("hot-pot", "Hot pot", POT_HARM, date(2026, 3, 2), None),
            cautions=(STOP, SCALD, READ, DEFER),
        ),
        task(
            5,
            "Big pot",
            "D3R-J",
            DEER,
            "Put {tag} in Big pot",
            "out was on 8 May; this comes next",
            cautions=(SCALD, DEFER),
            hazard=HazardCard("hot-pot", "Hot pot", POT_HARM, None, ACKNOWLEDGE),
            minutes=15.0,
            answers=(
                answer("pot-1", "Into Big pot", "moved", place="pot-1"),
                answer("pot-2", "Into Small pot", "moved", place="pot-2"),
            ),
        ),
    ),
    left_out=2,
    leaving=LEAVING,
    silent_days=4.0,
    coming=(
        task(6, "Freezer", "E5W-2", DEER, "Take {tag} out to thaw on Thaw shelf", "", due_from=date(2026, 5, 10)),
        task(7, "Trim bench", "E5W-2", DEER, "Trim {tag}: skin, eyes, tongue, brain", "", due_from=date(2026, 5, 11)),
    ),
    teach=None,
    basis=(
        Basis("degrease, warm pot", 3.0, 14.0, "days", Standing.PRACTICE, "common practice, no source"),
        Basis("whiten, 3 % for a day", 1.0, 4.0, "days", Standing.MEMORY, "from memory"),
    ),
    flags=(
        Flag(
            said("f", "nobody has said what the colony eats in a day; times in the box are common practice only"),
            said("f.next", "weigh a head before and after, or set the box's grams a day"),
        ),
    ),
    cautions=(DEFER,),
)

EMPTY_TODAY = replace(
    TODAY,
    tasks=(),
    alerts=(),
    coming=(),
    flags=(),
    basis=(),
    left_out=0,
    minutes=0.0,
    plan_made=None,
    silent_days=0.0,
    teach=said("teach.first", "Nothing is in the room. Add the first specimen; its steps and dates follow from that."),
)

READY = Ready(
    planned=date(2026, 6, 4), if_quick=date(2026, 5, 24), if_slow=date(2026, 6, 30), p50=None, p80=None, p95=None, checked=False
)


def leg(index: int, step: Step, now: int) -> LegCard:
    status = "done" if index < now else "now" if index == now else "ahead"
    status = {3: "skipped", 4: "no record"}.get(index, status) if index < now else status
    stay = index % 2 == 1
    return LegCard(
        step=step.value,
        visit=2 if index == now else 1,
        status=status,
        method="m",
        method_name="warm pot, 45 °C" if stay else step.value,
        place=None,
        days_p10=2.0 if stay else 0.0,
        days_p50=4.0 if stay else 0.0,
        days_p90=9.0 if stay else 0.0,
        minutes=10.0,
        standing="common practice, no source",
        pieces={11: 5, 13: 1}.get(index, 0),
        began=ago(4),
        ended=ago(3) if index < now else None,
        planned_start=ago(-index) if index > now else None,
        planned_end=ago(-6) if index == now else None,
    )


SPECIMEN = SpecimenCard(
    id="s-1",
    tag="D3R-J",
    species=DEER,
    owner="Marigold Fenn",
    received=ago(40),
    finish="white",
    measure=True,
    sex="male",
    age="adult",
    condition="frozen",
    permit=None,
    promised=date(2026, 6, 1),
    late_days=3,
    lot="Tray of May",
    live_mass_kg=None,
    head_mass_kg=3.4,
    tissue_kg=0.9,
    tissue_low_kg=0.5,
    tissue_high_kg=1.4,
    state=StateCard(
        "running",
        "degrease",
        2,
        "pot-1",
        "Big pot",
        ago(4),
        4.0,
        "dry",
        None,
        said("state.running", "{step}, {days:days} so far", step="degrease", days=4.0),
    ),
    parts=(
        PartCard("skull", "pot-1", "Big pot", ago(4)),
        PartCard("antlers", "shelf", "Shelf by the window", ago(38)),
        PartCard("loose teeth", None, None, None),
    ),
    teeth=TeethCard("I0/3 C0/1 P3/3 M3/3 x2 = 32", 32, "published, source read", "a table of dental formulas"),
    route=tuple(leg(i, step, 10) for i, step in enumerate(STEP_ORDER)),
    ready=READY,
    next_answers=(answer("rack", "On the rack", "moved", place="rack", step="dry", visit=1),),
    problem_answers=tuple(
        answer(f"p{i}", label, "problem", what=label)
        for i, label in enumerate(
            ("Grease shows", "Meat is left", "It smells", "Tooth loose", "Tooth missing", "Broken or cracked", "Live insects")
        )
    ),
    other_answers=(
        answer("hold", "Put on hold", "held", reason="waiting"),
        answer("skip", "Leave out: dry", "skipped", step="dry"),
        answer("back", "Back to: beetles", "sent-back", step="beetles"),
        answer("gone", "Not here any more", "gone"),
    ),
    problems=(ProblemCard("e-9", "loose tooth", ago(3), answer("settle", "Settled", "settled", problem="e-9")),),
    entries=(
        EntryCard("e-3", "moved", said("t", "into Big pot: degrease"), ago(4), ago(4), ago(4), "Odile", "desk", True, True),
        EntryCard("e-2", "done", said("t", "trim done"), ago(33), ago(31), ago(30), None, "desk", True, True),
        EntryCard("e-1", "done", said("t", "trim done"), ago(34), ago(34), ago(34), "Tobit", "desk", False, False),
        EntryCard("e-0", "received", said("t", "came in"), ago(40), ago(40), ago(40), "Tobit", "desk", True, True),
    ),
    fragile="premaxillae loosen and are often lost; nasal bones thin",
    basis=(
        Basis("head mass", 3.3, 3.5, "kg", Standing.ROOM, "weighed here"),
        Basis("tissue for the beetles", 0.5, 1.4, "kg", Standing.MEMORY, "from memory"),
    ),
    flags=(
        Flag(
            said("f", "trim was done twice on visit 1; the first one counts"),
            said("f.n", "if it was really done again, send it back to trim first, or take one back"),
        ),
    ),
    cautions=(SCALD, READ, DEFER),
)


def row(tag: str, species: SpeciesName, summary: str, **more: Any) -> SpecimenRow:
    plain: dict[str, Any] = {
        "id": tag,
        "tag": tag,
        "species": species,
        "owner": "Marigold Fenn",
        "step": "degrease",
        "status": "running",
        "summary": said("s", summary),
        "place": "pot-1",
        "place_name": "Big pot",
        "received": ago(30),
        "planned": date(2026, 6, 4),
        "promised": None,
        "late_days": 0,
        "problems": 0,
    }
    return SpecimenRow(**(plain | more))


SPECIMENS = SpecimenListCard(
    rows=(
        row("D3R-J", DEER, "degrease, 4 days so far", promised=date(2026, 6, 1), late_days=3, problems=1),
        row("C4T-8", COYOTE, "whiten, 3 days so far", planned=date(2026, 5, 19), owner=None),
        row("B2F-H", RACCOON, "waits for: teeth in", planned=date(2026, 5, 15), promised=date(2026, 5, 15)),
        row("E5W-2", DEER, "frozen hold, 21 days so far", planned=None),
    ),
    finished_left_out=4,
    teach=None,
)


def sits(tag: str, species: SpeciesName, days: float, following: str, *, late: bool = False) -> SitsCard:
    return SitsCard(
        f"s-{tag}",
        tag,
        species,
        ("skull", "mandible"),
        (f"specimen:{tag}",),
        ago(days),
        days,
        said("n", "next: {step}", step=following),
        date(2026, 6, 4),
        late,
    )


def whole(key: str, inside: tuple[SitsCard, ...]) -> tuple[Answer, ...]:
    subjects = tuple(subject for one in inside for subject in one.subject)
    if not subjects:
        return ()
    here = Answer("all-here", said("tap.all_here", "All still here"), "seen", subjects, {"place": key})
    moves = (
        Answer(f"into-{to}", said("tap.into", f"Into {to}"), "moved", subjects, {"place": to})
        for to in ("pot", "tub", "rack", "shelf")
    )
    return (here, *moves)


def place(key: str, name: str, kind: PlaceKind, *inside: SitsCard, **more: Any) -> PlaceCard:
    plain: dict[str, Any] = {
        "key": key,
        "name": name,
        "kind": kind.value,
        "open": True,
        "count": None,
        "volume_l": None,
        "mass_kg": None,
        "holds": len(inside),
        "full": None,
        "over": False,
        "appetite_kg_per_day": None,
        "sits": inside,
        "whole": whole(key, inside),
    }
    return PlaceCard(**(plain | more))


def method(step: str, key: str, name: str, **more: Any) -> MethodCard:
    plain: dict[str, Any] = {
        "step": step,
        "key": key,
        "name": name,
        "chosen": False,
        "in_use": False,
        "allowed": True,
        "hazard": False,
        "effort": "A look every few days.",
        "harm": "Left too long, the bone turns to chalk.",
        "standing": "common practice, no source",
        "source": "common practice, no source",
    }
    return MethodCard(**(plain | more))


METHODS = (
    method("trim", "trim", "Skin, eyes, tongue and brain out", in_use=True),
    method(
        "degrease",
        "warm-pot",
        "Warm pot at 45 °C",
        in_use=True,
        chosen=True,
        source="common practice; 45 °C from a guide",
        classed_by="grease",
        days={"1": (2.0, 4.0, 7.0), "5": (14.0, 30.0, 60.0)},
        pieces={"1": 6},
    ),
    method("degrease", "hot-pot", "Hot pot, 8 hours", hazard=True, harm="Splits teeth; burns hands.", standing="from memory"),
    method("degrease", "no-degreasing", "No degreasing", harm="Grease comes through later."),
    method("whiten", "three", "3 % for a day", in_use=True, standing="from memory"),
    method("whiten", "none", "No whitening", harm="None to the bone."),
    method("finish", "finish", "Glue nasals and jaw, pack", in_use=True),
)
LOCKED = tuple(
    replace(m, in_use=m.key in ("none", "no-degreasing", "trim", "finish"), allowed=m.key not in ("warm-pot", "hot-pot", "three"))
    for m in METHODS
)

ROOM = RoomCard(
    name=TODAY.room,
    zone="America/Chicago",
    units="metric",
    demo=True,
    places=(
        place(
            "freezer",
            "Freezer",
            PlaceKind.FREEZER,
            *(sits(f"E{n}W-2", DEER, 21.0 + n, "thaw to trim") for n in range(6)),
            count=30.0,
            full=False,
        ),
        place("thaw", "Thaw shelf", PlaceKind.THAW_SHELF, count=3.0, full=False),
        place("trim", "Trim bench", PlaceKind.TRIM_BENCH),
        place(
            "box",
            "Dairy cabinet",
            PlaceKind.ENCLOSURE,
            sits("D9K-P", COYOTE, 6.0, "out"),
            sits("D3R-J", DEER, 8.0, "judged clean", late=True),
            count=2.0,
            full=True,
            appetite_kg_per_day=0.16,
        ),
        place(
            "pot-1",
            "Big pot",
            PlaceKind.POT,
            sits("D4A-6", DEER, 3.0, "dry"),
            sits("D5C-M", RACCOON, 3.0, "dry"),
            volume_l=20.0,
            full=False,
        ),
        place("pot-2", "Small pot", PlaceKind.POT, open=False, volume_l=5.0, full=False),
        place("rack", "Drying rack", PlaceKind.RACK, sits("B8N-Q", RACCOON, 0.6, "teeth in"), count=12.0, full=False),
        place("glue", "Glue bench", PlaceKind.GLUE_BENCH, sits("B2F-H", RACCOON, 2.0, "teeth in")),
        place("tub", "Tub", PlaceKind.TUB, sits("C4T-8", COYOTE, 3.0, "rinse", late=True), count=4.0, full=False),
        place("rinse", "Rinse water", PlaceKind.RINSE, count=4.0, full=False),
        place("shelf", "Shelf by the window", PlaceKind.SHELF, sits("A6H-T", COYOTE, 1.0, "hand over")),
    ),
    nowhere=(sits("A9Z-3", RACCOON, 0.0, "finish"),),
    people=(
        WorkerCard(
            "p-1", "Odile", {"tue": (("09:00", "12:00"),), "sat": (("09:00", "12:00"), ("13:00", "16:00"))}, ("trim", "pot")
        ),
        WorkerCard("p-2", "Tobit", {}, ()),
    ),
    methods=METHODS,
    profile=None,
    features=tuple(FeatureCard(key, key == "smoke alarm") for key in ("gas heater", "electric fence", "smoke alarm", "co alarm")),
    closed=(date(2026, 5, 25),),
    teach=None,
    basis=(),
    flags=(),
    cautions=(DEFER,),
)


def silent(number: int, tag: str, species: SpeciesName, days: float, was: str, *, known: bool = True) -> SilentCard:
    whole_of = (f"specimen:{tag}",)
    about = "since 2026-04-29T13:30:00+00:00"
    return SilentCard(
        specimen_id=f"q-{number}",
        tag=tag,
        species=species,
        parts=("skull", "mandible"),
        subject=whole_of,
        since=ago(days + 1),
        silent_days=days,
        was=said("catchup.was", was),
        here=Answer("here", said("tap.here", "Still here"), "seen", whole_of, {"place": "box"}) if known else None,
        moved=tuple(
            Answer(f"moved-{key}", said("tap.into", f"Into {name}"), "moved", whole_of, {"place": key}, about=about)
            for key, name in (("pot-1", "Big pot"), ("rack", "Drying rack"), ("tub", "Tub"))
        ),
        gone=Answer("gone", said("tap.gone", "Not here any more"), "gone", whole_of, {"why": "not found"}, about=about),
    )


def walk(key: str, name: str, kind: PlaceKind, settled: int, *pieces: SilentCard) -> WalkCard:
    subjects = tuple(subject for piece in pieces for subject in piece.subject)
    here = Answer("all-here", said("tap.all_here", "All still here"), "seen", subjects, {"place": key}) if pieces else None
    return WalkCard(key, name, kind.value, pieces, settled, here)


CATCH_UP = CatchUpCard(
    silent_days=10.0,
    left=5,
    said=5,
    places=(
        walk("freezer", "Freezer", PlaceKind.FREEZER, 4),
        walk(
            "box", "Dairy cabinet", PlaceKind.ENCLOSURE, 1,
            silent(1, "D9K-P", COYOTE, 10.0, "it was in beetles"),
            silent(2, "D3R-J", DEER, 10.0, "it was in beetles"),
            silent(3, "M1H-2", MOUSE, 12.0, "it was in beetles"),
        ),
        walk("pot-1", "Big pot", PlaceKind.POT, 0, silent(4, "D4A-6", DEER, 10.0, "it was in degrease")),
    ),
    nowhere=(silent(5, "A9Z-3", RACCOON, 11.0, "it waited", known=False),),
    teach=None,
)  # fmt: skip

QUESTIONS = [
    {"key": key, "text": text, "why": why, "must_ask": must, "answer": ""}
    for key, text, why, must in (
        ("bite", "Did it bite or scratch a person or pet, act oddly, or look sick?", "Rabies kills", True),
        ("drug", "Was it put down with a drug, or may it have eaten poison?", "The drug stays in the flesh", True),
        ("insects", "Are there maggots, fly eggs, mites or ticks on it?", "Mites have ended colonies", False),
        ("salted", "Has salt been put on it?", "Salted meat starves a colony", False),
    )
]
BEGIN = {
    "kinds": [(kind.value, "1") for kind in PlaceKind],
    "choices": [
        (
            "degrease",
            [
                ("warm-pot", "Warm pot, 45 °C", "the gentlest we know", "common practice, no source"),
                ("hot-pot", "Hot pot", "splits teeth", "from memory"),
            ],
        ),
        ("whiten", [("three", "3 % for a day", "takes mineral from teeth", "from memory")]),
    ],
    "zones": ["America/Chicago", "Europe/Paris"],
}  # fmt: skip

MIX = MixCard(
    stock=0.35,
    strength=0.03,
    volume_l=10.0,
    temperature_c=20.0,
    stock_kg=0.865,
    stock_l=0.764,
    water_kg=9.226,
    water_l=9.243,
    density_kg_m3=1009.1,
    naive_stock_l=0.857,
    naive_strength=0.0335,
    strength_w_v_percent=3.03,
    strength_volumes=9.97,
    oxygen_l=99.7,
    heat_rise_k=20.0,
    boils=False,
    steps=(
        said("g", "Goggles and gloves on, eyes' wash water at hand, tub clean and free of metal"),
        said("w", "Pour {water:volume} of water ({mass:mass}) into the tub", water=9.243, mass=9.226),
        said(
            "s", "Add {stock:volume} of stock ({mass:mass}) to the water, slowly, never water to the stock", stock=0.764, mass=0.865
        ),
        said("m", "Stir with plastic or glass; this makes {volume:volume} at {strength:strength}", volume=10.0, strength=0.03),
        said("l", "Label the tub: peroxide {strength:strength}, today's date, your name", strength=0.03),
    ),
    basis=(Basis("density of the bath", 1008.9, 1009.3, "kg/m3", Standing.PUBLISHED, "a published table"),),
    flags=(
        Flag(
            said("f", "'35 %' was read as percent by weight (w/w)"),
            said("f.n", "look on the bottle; for percent by volume of solution write w/v"),
        ),
    ),
    cautions=(STOP, STRONG, SCALD, READ, DEFER),
)

SPECIES_LIST = SpeciesListCard(
    rows=(
        SpeciesRow("odocoileus-virginianus", "white-tailed deer", "Odocoileus virginianus", "Artiodactyla", 2, 32, False),
        SpeciesRow("procyon-lotor", "raccoon", "Procyon lotor", "Carnivora", 4, 40, True),
        SpeciesRow("dasypus-novemcinctus", "nine-banded armadillo", "Dasypus novemcinctus", "Cingulata", 3, None, False),
    )
)
SPECIES = SpeciesCard(
    "procyon-lotor",
    "raccoon",
    "Procyon lotor",
    ("coon",),
    "Carnivora",
    True,
    (
        ValueCard("body_mass", "6.5 kg, 4 to 10 kg", 6.5, 4.0, 10.0, "kg", "from memory", "from memory (working adult value)"),
        ValueCard(
            "dental_formula",
            "I3/3 C1/1 P4/4 M2/2 x2 = 40",
            None,
            None,
            None,
            "",
            "published, source read",
            "a table of dental formulas",
        ),
        ValueCard("grease_class", "4 of 5", 4.0, None, None, "", "common practice, no source", "common practice, no source"),
    ),
    (),
    (),
    (
        caution(
            "roundworm",
            "strong",
            "Eggs of a roundworm in the droppings can harm brain and eyes.",
            "skinning or trimming a raccoon",
            "Gloves and mask; bag and freeze the waste.",
        ),
    ),
)


@dataclass(frozen=True)
class Page:
    """One page to render: the file it is shown as, its template, and its own variables."""

    name: str
    template: str
    here: str
    values: dict[str, Any]


FRAME: dict[str, Any] = {
    "room_name": TODAY.room,
    "demo": True,
    "who": "Odile",
    "who_id": "p-1",
    "people": [("p-1", "Odile"), ("p-2", "Tobit")],
    "units": "metric",
    "said_after": None,
    "undo": None,
}
AFTER = {"said_after": said("after", "D3R-J: on the rack"), "undo": "e-77"}
TYPED = {"stock": "35 %", "target": "3 %", "volume": "10 L", "temperature": "", "parts": ""}


def photo(number: int, step: str | None, days: float, **more: Any) -> PhotoCard:
    """One invented photo."""
    mark = f"{number:064x}"
    plain: dict[str, Any] = {
        "entry": f"e-photo-{number}", "sha256": mark, "address": f"/photos/{mark}.jpg",
        "small_address": f"/photos/{mark}/small.jpg",
        "step": step, "visit": 1, "part": None, "note": None, "at": ago(days), "camera_said": None, "who": "Wren Halloway",
        "width_px": 2048, "height_px": 1536, "here": True,
    }  # fmt: skip
    return PhotoCard(**{**plain, **more})


PHOTOS = PhotosCard(
    tag="D3R-J",
    species="white-tailed deer",
    now="whiten",
    steps=tuple(step.value for step in STEP_ORDER),
    parts=("skull", "mandible", "antlers"),
    photos=(
        photo(1, "trim", 20, note="old break at the left zygoma"),
        photo(2, "whiten", 2, part="mandible", width_px=1536, height_px=2048),
        photo(3, "whiten", 1, visit=2),
        photo(4, None, 1, here=False, address="", small_address="", width_px=None, height_px=None),
    ),
    flags=(
        Flag(
            said("photo.missing", "{count} photos are written down, but their files are not there", count=1),
            said("photo.missing.next", "copy {folder} back from a backup; `book check` names each file", folder="bone-files"),
        ),
    ),
)
TEETH = TeethChartCard(
    tag="D3R-J", species=DEER, age="3 years", dentition="permanent", formula="I0/3 C0/1 P3/3 M3/3 x2 = 32",
    standing="published, source read", source="a table of dental formulas", expected=32, expected_low=32, expected_high=32,
    in_place=1, loose=1, reseated=1, chipped=1, in_jar=1, missing=1, missing_before=1, not_looked=1, jar=2,
    jar_at=ago(0.1), agrees=False,
    agreement=said("teeth.jar.disagrees", "jar and chart disagree: 2 counted in the jar, 1 by the chart"),
    teeth=(
        *(
            ToothCard(f"{quarter}{place}", state, 100 + number, f"tooth {place}", jaw, side, place[0], 1, False, "expected")
            for quarter, jaw, side in (("UR", "upper", "right"), ("LL", "lower", "left"))
            for number, (place, state) in enumerate(
                zip(("I1", "C", "P2", "P3", "P4", "M1", "M2", "M3"), (*STATES, "not looked at"), strict=True)
            )
        ),
        ToothCard("<tusk>", "loose", None, "<tusk>", "", "", "", 0, False, "not of this species"),
    ),
    notes=(said("teeth.incisiform", "the fourth front tooth below looks like an incisor and is the canine: LLC, LRC"),),
    answers=(
        Answer("rest", said("tap.teeth.rest", "All others are in place"), "teeth-marked", ("specimen:d",),
               {"marks": {}, "rest": "in place"}),
        Answer("jar-counted", said("tap.jar.counted", "Counted: the jar holds 1"), "jar-counted", ("specimen:d",), {"count": 1}),
        Answer("jar-more", said("tap.jar.more", "+ 1 into the jar"), "jar-changed", ("specimen:d",), {"by": 1}),
    ),
    basis=(Basis("teeth.complete", 32, 32, "teeth", Standing.PUBLISHED, "a table of dental formulas"),),
    flags=(Flag(said("flag.teeth.missing", "D3R-J: not found: ULP4"), said("flag.teeth.missing.next", "look in the sieve")),),
    cautions=(DEFER,),
)  # fmt: skip


def colour_fact(key: str, label: str, value: str) -> Fact:
    return Fact(said(f"{key}.label", label), said(key, value))


COURSE = ProgressCard(
    title=said("colour.perhaps", "changed by 1.4 since the look before, which is within the noise of 2.4: look once more"),
    facts=(colour_fact("colour.last", "Since the look before", "1.4 (CIEDE2000)"),),
    basis=(Basis("difference of two photos of the same thing", 0.7, 3.0, "", Standing.ESTIMATE, "assumed"),),
    cautions=(STRONG, DEFER),
    tag="D3R-J",
    setting="bench lamp, room phone",
    looks=3,
    last_change=1.4,
    whole_change=5.9,
    lighter=7.3,
    limit=2.4,
    still_looks=2,
    still_days=0.3,
    repeats=0,
)
COLOUR = ColourCard(
    title=said("colour.title", "L* 79.1, a* -0.6, b* 7.8: an estimate, to compare with photos of the same phone in the same light"),
    facts=(colour_fact("colour.lightness", "Lightness L*", "79.1; 75.5 to 82.6 by how well the card is known"),),
    flags=(Flag(said("colour.no_setting", "it is not said with which phone"), said("colour.no_setting.next", "name it")),),
    cautions=(STRONG, DEFER),
    tag="D3R-J",
    photo="e-photo-3",
    sha256=f"{3:064x}",
    lightness=79.1,
    lightness_low=75.5,
    lightness_high=82.6,
    a=-0.6,
    b=7.8,
    spread=0.4,
    uneven=0.01,
    card=(0.1, 0.2, 0.08, 0.08),
    bone=(0.5, 0.4, 0.1, 0.1),
    reflectance=0.18,
    setting="bench lamp, room phone",
    progress=COURSE,
)
MARKED = {"photo": "e-photo-3", "card": "", "bone": "", "against": "grey", "setting": "", "size": "8", "wide": "320", "high": "240"}
COLOUR_PAGE: dict[str, Any] = {
    "page": "specimen", "tag": "D3R-J", "species": "white-tailed deer", "photo": PHOTOS.photos[2], "form": MARKED, "card": None,
    "error": None, "courses": (COURSE,), "boxes": [], "cards": [("grey", "a photographer's grey card"), ("paper", "white paper")],
}  # fmt: skip
BOTH = {**MARKED, "card": "10 20 8 8", "bone": "50 40 10 10"}

PAGES = (
    Page("colour", "colour.html", "/specimens/D3R-J/colour?photo=e-photo-3", COLOUR_PAGE),
    Page(
        "colour-measured",
        "colour.html",
        "/specimens/D3R-J/colour?photo=e-photo-3&card=10+20+8+8&bone=50+40+10+10",
        {**COLOUR_PAGE, "form": BOTH, "card": COLOUR, "boxes": [("card", (205, 307, 164, 123)), ("bone", (1024, 614, 205, 154))]},
    ),
    Page(
        "colour-refused",
        "colour.html",
        "/specimens/D3R-J/colour?photo=e-photo-3&card=10+20+8+8&bone=50+40+10+10",
        {**COLOUR_PAGE, "form": BOTH, "error": said("colour.dark", "the card is too dark to measure by"), "courses": ()},
    ),
    Page(
        "colour-none",
        "colour.html",
        "/specimens/D3R-J/colour",
        {**COLOUR_PAGE, "photo": None, "form": {}, "courses": ()},
    ),
    Page("today", "today.html", "/", {"page": "today", "card": TODAY, "minutes": None}),
    Page("today-after", "today.html", "/", {"page": "today", "card": TODAY, "minutes": 30.0, **AFTER}),
    Page("today-empty", "today.html", "/", {"page": "today", "card": EMPTY_TODAY, "minutes": None, "who": None, "who_id": ""}),
    Page(
        "today-nobody",
        "today.html",
        "/",
        {
            "page": "today",
            "minutes": None,
            "who": None,
            "who_id": "",
            "card": replace(
                TODAY,
                alerts=(),
                silent_days=2.0,
                tasks=tuple(replace(t, hazard=replace(t.hazard, acknowledged=None, answer=None)) for t in TODAY.tasks if t.hazard),
                leaving=replace(LEAVING, left_today=True, last_left=ago(0.05)),
            ),
        },
    ),
    Page("catch-up", "catch_up.html", "/catch-up", {"page": "catch-up", "card": CATCH_UP}),
    Page(
        "catch-up-done",
        "catch_up.html",
        "/catch-up",
        {
            "page": "catch-up",
            "card": CatchUpCard(
                0.1, 0, 9, (CATCH_UP.places[0],), (), said("catchup.done", "Everything in the room was spoken of lately.")
            ),
        },
    ),
    Page("methods", "methods.html", "/methods", {"page": "methods", "card": ROOM}),
    Page(
        "methods-locked", "methods.html", "/methods", {"page": "methods", "card": replace(ROOM, profile="museum", methods=LOCKED)}
    ),
    Page("begin", "begin.html", "/begin", {"page": "begin", "form": {}, "error": None, **BEGIN}),
    Page(
        "begin-refused",
        "begin.html",
        "/begin",
        {
            "page": "begin",
            "form": {"name": "Annex", "units": "us", "count pot": "2", "method degrease": "hot-pot"},
            "error": said("e", "'Prairie/Nowhere' is no time zone; write it like America/Chicago"),
            **BEGIN,
        },
    ),
    Page("specimens", "specimens.html", "/specimens", {"page": "specimens", "card": SPECIMENS, "asked": {}}),
    Page(
        "specimens-none",
        "specimens.html",
        "/specimens?late=1",
        {"page": "specimens", "card": replace(SPECIMENS, rows=()), "asked": {"late": "1", "place": "pot-1"}},
    ),
    Page("specimen", "specimen.html", "/specimens/D3R-J", {"page": "specimen", "card": SPECIMEN, "photos": PHOTOS}),
    Page(
        "photos",
        "photos.html",
        "/specimens/D3R-J/photos",
        {"page": "specimen", "card": PHOTOS, "pair": (PHOTOS.photos[0], PHOTOS.photos[2]), "refused": ()},
    ),
    Page(
        "photos-none",
        "photos.html",
        "/specimens/D3R-J/photos",
        {
            "page": "specimen",
            "card": replace(PHOTOS, photos=(), flags=()),
            "pair": None,
            "refused": (said("photo.nothing", "no photo was chosen; take or choose one first"),),
        },
    ),
    *(
        Page(
            name,
            "teeth.html",
            "/specimens/D3R-J/teeth",
            {"page": "specimen", "card": card, "quarters": quarters(card.teeth), "states": STATES, "form": form, "error": error},
        )
        for name, card, form, error in (
            ("teeth", TEETH, Form(), None),
            ("teeth-refused", TEETH, Form("loose", ("URC",), "P4"), said("e", "'P4' does not say which tooth it is")),
            ("teeth-none", replace(TEETH, teeth=(), expected=0, jar=None, agrees=True, flags=()), Form(), None),
        )
    ),
    Page(
        "specimen-parts",
        "specimen.html",
        "/specimens/D3R-J",
        {"page": "specimen", "card": replace(SPECIMEN, **kept.SPECIMEN_MORE), "photos": PHOTOS},
    ),
    *(
        Page(f"{page}-{number}", f"{page}.html", f"/{page}", {"page": page, "card": card, "error": error, "typed": {}})
        for page, cards in (
            ("place", (kept.PLACE, kept.PLACE_EMPTY)),
            ("lots", (kept.LOTS, kept.LOTS_NONE)),
            ("tags", (kept.TAGS, kept.TAGS_NONE)),
        )
        for number, (card, error) in enumerate(zip(cards, (None, said("e", "it cannot be")), strict=True))
    ),
    Page("room", "room.html", "/room", {"page": "room", "card": ROOM}),
    Page(
        "room-empty",
        "room.html",
        "/room",
        {
            "page": "room",
            "card": replace(
                ROOM,
                places=(),
                nowhere=(),
                methods=(),
                people=(),
                closed=(),
                teach=said("t", "This room has no places yet. Set up a freezer, a beetle box, a pot, a tub and a rack first."),
            ),
        },
    ),
    Page("mix", "mix.html", "/mix", {"page": "mix", "card": None, "form": {}, "error": None}),
    Page(
        "mix-card",
        "mix.html",
        "/mix?stock=35+%25&target=3+%25&volume=10+L",
        {"page": "mix", "card": MIX, "form": TYPED, "error": None},
    ),
    Page(
        "mix-refused",
        "mix.html",
        "/mix",
        {
            "page": "mix",
            "card": None,
            "form": TYPED | {"target": "50 %"},
            "error": said("e", "target strength 50 % is above the stock's 35 %: a bath cannot be diluted upward"),
        },
    ),
    Page(
        "add",
        "add.html",
        "/add",
        {"page": "add", "form": {}, "error": None, "could_be": (), "species_names": ["coyote", "raccoon", "white-tailed deer"]},
    ),
    Page(
        "add-questions",
        "add.html",
        "/add",
        {"page": "add", "form": {}, "error": None, "could_be": (), "species_names": ["coyote"], "questions": QUESTIONS},
    ),
    Page(
        "add-refused",
        "add.html",
        "/add",
        {
            "page": "add",
            "form": {"species": "cojote", "head_mass": "ten buckets", "sex": "male", "finish": "natural"},
            "error": said("e", "'ten buckets' is not a mass; write it like 350 g or 3 lb"),
            "could_be": ("coyote",),
            "species_names": ["coyote"],
        },
    ),
    Page("species", "species.html", "/species", {"page": "species", "card": SPECIES_LIST, "query": ""}),
    Page("one-species", "one_species.html", "/species/procyon-lotor", {"page": "species", "card": SPECIES}),
    Page(
        "problem",
        "problem.html",
        "/specimens/X",
        {"page": "problem", "problem": said("e", "no specimen carries the tag 'D3R-K'"), "could_be": ["D3R-J"]},
    ),
    *(Page(*one) for one in PAPER_PAGES),
)


@lru_cache(maxsize=4)
def environment(reader: Reader = READER) -> Environment:
    """Return templates as strict as the program's own: a missing variable is an error, and everything is escaped."""
    made = Environment(
        loader=FileSystemLoader(TEMPLATES), undefined=StrictUndefined, autoescape=True, trim_blocks=True, lstrip_blocks=True
    )
    made.filters.update(filters(reader, ZONE))
    return made


def rendered(page: Page, **other: Any) -> str:
    """Return a page as HTML, with some variables exchanged."""
    return environment().get_template(page.template).render({**FRAME, "here": page.here, **page.values, **other})


def page(name: str) -> Page:
    """Return a sample page by its name."""
    return next(page for page in PAGES if page.name == name)
