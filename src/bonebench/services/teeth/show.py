"""The card of a specimen's teeth, from plain values."""

from collections import Counter
from collections.abc import Iterable, Iterator

from bonebench.errors import UnknownName
from bonebench.figures import Basis
from bonebench.reference.teeth import ToothRecord
from bonebench.said import Said, said
from bonebench.science.anatomy import Dentition, Tooth, counts, read_tooth, triadan
from bonebench.services.cards import Answer, Flag, SpeciesName
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.services.teeth.cards import NOT_LOOKED, TeethChartCard, ToothCard
from bonebench.services.teeth.chart import Chart, chart_of
from bonebench.services.teeth.names import tooth_name
from bonebench.shop.entries import specimen_subject
from bonebench.shop.species import Note, written_formula
from bonebench.shop.specimen import Specimen
from bonebench.shop.teeth import TeethLog
from bonebench.shop.teeth_entries import ToothState
from bonebench.shop.teeth_telling import listed


def teeth_card(subject: Subject, known: Known, flags: Iterable[Flag]) -> TeethChartCard:
    """Return the teeth of one specimen, whole; ``flags`` are those of the specimen that bear on its teeth."""
    specimen, teeth = subject.specimen, subject.specimen.teeth
    chart = chart_of(specimen, known)
    cards = tuple(_cards(chart, teeth))
    found = _count(cards)
    species = chart.species
    low, high = _range(chart)
    return TeethChartCard(
        tag=specimen.tag,
        species=SpeciesName(species.key, species.common_name, species.scientific_name),
        age=specimen.age,
        dentition=chart.kind,
        formula=_formula(chart),
        standing=species.teeth.standing.value,
        source=species.teeth.source,
        expected=chart.expected,
        expected_low=low,
        expected_high=high,
        in_place=found[ToothState.IN_PLACE],
        loose=found[ToothState.LOOSE],
        reseated=found[ToothState.GLUED],
        chipped=found[ToothState.CHIPPED],
        in_jar=found[ToothState.IN_JAR],
        missing=found[ToothState.MISSING_NOW],
        missing_before=found[ToothState.MISSING_BEFORE],
        not_looked=found[NOT_LOOKED],
        jar=teeth.jar,
        jar_at=teeth.jar_at,
        agrees=teeth.unplaced == 0,
        agreement=_agreement(teeth),
        teeth=cards,
        notes=tuple(_notes(chart)),
        answers=tuple(_answers(specimen, chart, cards)),
        basis=tuple(_basis(chart)),
        flags=(*flags, *odd_teeth(specimen, known)),
        cautions=(known.defer,),
    )


def _count(cards: Iterable[ToothCard]) -> Counter[str]:
    """Count teeth by state; one that may be there counts once somebody saw it, one of another animal never."""
    return Counter(
        card.state
        for card in cards
        if card.on_chart == "expected" or (card.on_chart == "may be there" and card.state != NOT_LOOKED)
    )


def _formula(chart: Chart) -> str:
    if chart.record is None:
        return chart.species.teeth.written if chart.kind == "none" or chart.known_total is not None else "not known"
    if chart.kind == "milk" and chart.record.milk is not None:
        return _milk_formula(chart.record.milk)
    if chart.kind == "changing" and chart.record.milk is not None:
        return f"{_milk_formula(chart.record.milk)}, then {chart.species.teeth.written}"
    return chart.species.teeth.written


def _milk_formula(milk: Dentition) -> str:
    return written_formula({f"d{kind}": count for kind, count in counts(milk).items() if kind != "M"})


def _range(chart: Chart) -> tuple[int | None, int | None]:
    if chart.kind == "permanent":
        count = chart.species.teeth.count
        return round(count.low), round(count.high)
    if chart.expected is None and chart.kind == "unknown" and chart.record is None and chart.known_total is None:
        return None, None
    return chart.expected, chart.expected


def _cards(chart: Chart, teeth: TeethLog) -> Iterator[ToothCard]:
    drawn = chart.shown
    yield from (_card(chart, tooth, teeth) for tooth in drawn)
    shown = {tooth.code for tooth in drawn}
    for code in sorted(set(teeth.marks) - shown):
        tooth = _read(code)
        if tooth is not None:
            yield _card(chart, tooth, teeth)
        else:
            mark = teeth.marks[code]
            yield ToothCard(code, mark.state.value, None, code, "", "", "", 0, False, "not of this species", since=mark.at)


def _read(code: str) -> Tooth | None:
    """Return the tooth of a code as it is kept; None where a book holds something else."""
    try:
        tooth = read_tooth(code, ())
    except UnknownName:
        return None
    return tooth if tooth.code == code else None


def _card(chart: Chart, tooth: Tooth, teeth: TeethLog) -> ToothCard:
    mark = teeth.marks.get(tooth.code)
    by_homologue = chart.record is not None and chart.record.triadan
    often_missing = chart.record is not None and tooth in chart.record.often_missing
    state = mark.state if mark is not None else (teeth.rest if covered_by_rest(chart, tooth) else None)
    return ToothCard(
        code=tooth.code,
        state=NOT_LOOKED if state is None else state.value,
        triadan=triadan(tooth) if by_homologue else None,
        name=tooth_name(tooth, by_number=by_homologue or chart.record is None),
        jaw=tooth.jaw,
        side=tooth.side,
        kind=tooth.kind,
        number=tooth.number,
        milk=tooth.milk,
        on_chart=chart.whence(tooth),
        often_missing=often_missing,
        since=None if mark is None else mark.at,
    )


def covered_by_rest(chart: Chart, tooth: Tooth) -> bool:
    """Whether "all the others" speaks of a tooth: not of one that may never have been there, nor of a mouth that changes."""
    if chart.record is None or chart.whence(tooth) != "expected":
        return False
    return tooth not in chart.record.often_missing


def _agreement(teeth: TeethLog) -> Said:
    values = {"jar": teeth.jar or 0, "chart": len(teeth.jarred)}
    if teeth.jar is None and not teeth.jarred:
        return said("teeth.jar.none", "nothing is in the jar by the chart, and nobody has counted one")
    if teeth.jar is None:
        return said("teeth.jar.uncounted", "the chart puts {chart} in the jar; nobody has counted it yet", **values)
    if teeth.unplaced == 0:
        return said("teeth.jar.agrees", "jar and chart agree: {jar} in the jar", **values)
    return said("teeth.jar.disagrees", "jar and chart disagree: {jar} counted in the jar, {chart} by the chart", **values)


def _notes(chart: Chart) -> Iterator[Said]:
    if chart.kind == "none":
        yield said("teeth.none", "{species} has no teeth", species=chart.species.common_name)
    elif chart.kind == "unknown":
        yield said(
            "teeth.no_chart",
            "no dental formula is known for it, so no chart can be drawn; count the jar, and write single teeth by code",
        )
    record = chart.record
    if record is None:
        return
    if chart.kind == "changing":
        yield said(
            "teeth.changing", "young: milk and permanent teeth may stand side by side, so no number is demanded; mark what is there"
        )
        if record.milk is None:
            yield said("teeth.milk_unknown", "which milk teeth it has is not known here; write one with a d, such as ULdP4")
    yield from _variants(chart, record)
    lower = record.adult.lower
    if lower.canines and len(lower.incisors) == 3 and not record.adult.upper.incisors:
        yield said("teeth.incisiform", "the fourth front tooth below looks like an incisor and is the canine: LLC, LRC")
    text = (
        "premolars carry the number of the tooth they answer to in a full set"
        if record.triadan
        else "numbers count from the front, and no Triadan code is given"
    )
    yield _sourced("teeth.numbers", text, record.numbers)
    if chart.kind in ("milk", "changing") and record.milk_note is not None:
        yield _sourced("teeth.milk", "milk teeth", record.milk_note)
    if chart.kind == "changing" and record.full_mouth_note is not None:
        yield _sourced("teeth.full_mouth", record.full_mouth_note.text, record.full_mouth_note)


def _variants(chart: Chart, record: ToothRecord) -> Iterator[Said]:
    if record.variants is not None and chart.kind != "milk":
        yield _sourced("teeth.variants", record.variants.text, record.variants)


def _sourced(key: str, text: str, note: Note) -> Said:
    how = note.source if note.standing.value in note.source else f"{note.standing.value}; {note.source}"
    return said(key, "{text} ({how})", text=text, how=how)


def _answers(specimen: Specimen, chart: Chart, cards: tuple[ToothCard, ...]) -> Iterator[Answer]:
    """The buttons beside the chart: the rest in one tap, and the jar."""
    whole, teeth = (specimen_subject(specimen.id),), specimen.teeth
    open_ones = [card.code for card in cards if card.state == NOT_LOOKED and card.on_chart == "expected"]
    doubtful = [card.code for card in cards if card.code in open_ones and card.often_missing]
    if len(open_ones) > len(doubtful):
        yield Answer("rest", said("tap.teeth.rest", "All others are in place"), "teeth-marked", whole,
                     {"marks": {}, "rest": ToothState.IN_PLACE.value})  # fmt: skip
    if doubtful and len(open_ones) == len(doubtful):
        label = said("tap.teeth.never", "The {count} not marked were not there when it came in", count=len(doubtful))
        marks = dict.fromkeys(doubtful, ToothState.MISSING_BEFORE.value)
        yield Answer("never-there", label, "teeth-marked", whole, {"marks": marks, "rest": None})
    if teeth.unplaced or (teeth.jar is None and teeth.jarred):
        label = said("tap.jar.counted", "I counted: the jar holds {count}", count=len(teeth.jarred))
        yield Answer("jar-counted", label, "jar-counted", whole, {"count": len(teeth.jarred)})
    yield Answer("jar-more", said("tap.jar.more", "+ 1 into the jar"), "jar-changed", whole, {"by": 1})
    if teeth.jar:
        yield Answer("jar-less", said("tap.jar.less", "- 1 out of the jar"), "jar-changed", whole, {"by": -1})


def _basis(chart: Chart) -> Iterator[Basis]:
    species = chart.species
    if chart.kind == "permanent":
        count = species.teeth.count
        yield Basis("teeth.complete", count.low, count.high, "teeth", count.standing, count.source)
    elif chart.kind == "milk" and chart.record is not None and chart.record.milk_note is not None:
        note = chart.record.milk_note
        yield Basis("teeth.milk", len(chart.teeth), len(chart.teeth), "teeth", note.standing, note.source)


def odd_teeth(specimen: Specimen, known: Known) -> tuple[Flag, ...]:
    """Say which marked teeth this animal cannot have: kept as they came, to be read again."""
    if not specimen.teeth.marks:
        return ()
    chart = chart_of(specimen, known)
    if chart.kind == "unknown":
        return ()
    odd = sorted(code for code in specimen.teeth.marks if _foreign(chart, code))
    if not odd:
        return ()
    values = {"species": chart.species.common_name, "teeth": listed(odd), "tag": specimen.tag, "near": _near(chart, odd[0])}
    what = said("flag.teeth.foreign", "marked on {tag}, but {species} has no such tooth: {teeth}", **values)
    if all(_is_milk(code) for code in odd):
        after = said(
            "flag.teeth.foreign.milk", "if it is a young animal write its age; else read the codes again and take the entry back"
        )
    else:
        after = said(
            "flag.teeth.foreign.next",
            "hold the tooth in your hand and read its code again, it may be {near}; then take the wrong entry back", **values,
        )  # fmt: skip
    return (Flag(what, after),)


def _foreign(chart: Chart, code: str) -> bool:
    tooth = _read(code)
    return tooth is None or chart.whence(tooth) == "not of this species"


def _is_milk(code: str) -> bool:
    tooth = _read(code)
    return tooth is not None and tooth.milk


def _near(chart: Chart, code: str) -> str:
    """The teeth of this animal nearest to a code it cannot have: same quarter and kind first."""
    tooth = _read(code)
    if tooth is None or not chart.shown:
        return "a tooth of another animal"
    quarter = [one for one in chart.shown if (one.jaw, one.side) == (tooth.jaw, tooth.side)]
    alike = [one for one in quarter if one.kind == tooth.kind] or quarter[:4]
    # The fourth front tooth below of deer and cattle is their canine.
    if tooth.kind == "I" and tooth.number > len(alike):
        alike = [one for one in quarter if one.kind == "C"] + alike
    return " or ".join(one.code for one in alike[:3]) or "a tooth of another animal"
