"""Cards of baths as text for people: cautions before anything to pour."""

from typing import TYPE_CHECKING

from bonebench.cli.words import basis_lines, caution_lines, day, flag_lines, moment
from bonebench.units import Reader, say, write

if TYPE_CHECKING:
    from bonebench.services.baths.bathcard import BathCard, BathListCard, StrengthCard
    from bonebench.services.baths.bench import BenchCard


def bath_text(card: "BathCard", reader: Reader, zone: str) -> str:
    """Return one bath, whole."""
    lines = [*caution_lines(card.cautions, reader), ""]
    gone = "" if card.live else "  [thrown away]"
    lines += [
        f"{card.name}  ({card.recipe}){gone}",
        f"place      {card.place_name or card.place or '-'}",
        f"made       {moment(card.made, zone, reader)}" + (f" by {card.made_by}" if card.made_by else ""),
    ]
    if card.volume_l is not None:
        brim = f" of {write(card.vessel_l, 'volume', reader)}" if card.vessel_l is not None else ""
        lines.append(f"holds      {write(card.volume_l, 'volume', reader)}{brim}")
    if card.made_w is not None:
        lines.append(f"mixed to   {write(card.made_w, 'strength', reader)} w/w")
    if card.dose is not None:
        lines.append(f"detergent  {100 * card.dose:.3g} % by volume")
    if card.temperature_c is not None:
        lines.append(f"warmth     {write(card.temperature_c, 'temperature', reader)}")
    if card.strength is not None:
        lines += strength_lines(card.strength, reader)
    if card.next_change is not None:
        lines.append(f"water      {say(card.next_change, reader)}")
    lines += [f"  * {say(one, reader)}" for one in card.advice]
    if card.top_up is not None:
        lines.append(f"  * {say(card.top_up.said, reader)}; test it first")
    if card.contents:
        lines += ["", "In it:"]
        for c in card.contents:
            lines.append(f"  {c.tag:8} {c.species.common:24.24} {', '.join(c.parts)}, {c.days:.1f} days")
            if c.degreasing is not None:
                seen = f"{c.degreasing.standing}, {c.degreasing.looks} looks and {c.degreasing.checks} checks of it"
                lines.append(f"           {say(c.degreasing.said, reader)} ({seen})")
    lines += [""] + [
        f"  {moment(e.latest, zone, reader)}  {say(e.what, reader)}{'' if e.counts else '  (taken back)'}  {e.id}"
        for e in card.entries
    ]
    return "\n".join([*lines, *flag_lines(card.flags, reader), "Rests on:", *basis_lines(card.basis)])


def strength_lines(card: "StrengthCard", reader: Reader) -> list[str]:
    """Return how strong a bath probably is, as a range, with what it rests on."""
    low, high = write(card.low_w, "strength", reader), write(card.high_w, "strength", reader)
    return [
        f"strength   probably {low} to {high} w/w",
        f"           {say(card.rests_on, reader)}",
        f"look by    {day(card.look_by, reader)}; half gone in about {card.half_life_days:.2g} days",
    ]


def bath_list_text(card: "BathListCard", reader: Reader) -> str:
    """Return the list, one bath a line, cautions first."""
    if card.teach is not None:
        return say(card.teach, reader)
    lines = [*caution_lines(card.cautions, reader), ""]
    for row in card.rows:
        holds = "empty" if not row.holds else f"{row.holds} in it"
        lines.append(
            f"{row.name:20.20} {row.place_name or '-':16.16} {holds:10} {row.age_days:5.1f} days  {say(row.summary, reader)}"
            + (f"; look by {day(row.look_by, reader)}" if row.look_by is not None else "")
        )
    if card.discarded_left_out:
        lines.append(f"{card.discarded_left_out} thrown away are not shown; --all shows them")
    return "\n".join(lines)


def bench_text(card: "BenchCard", reader: Reader) -> str:
    """Return chemicals, materials and glues, cautions first."""
    lines = [*caution_lines(card.cautions, reader), "", "Chemicals"]
    for chemical in card.chemicals:
        lines.append(f"  {chemical.name} ({chemical.standing.value})")
        lines += [f"    from {100 * c.from_w:g} %: {c.name} ({c.code}; {c.standing.value})" for c in chemical.classes]
        lines += [f"    never with {other}: {why}" for other, why in chemical.never_with]
        lines += [f"    first aid: {chemical.first_aid}", f"    away: {chemical.away}"]
    lines.append("Materials")
    for m in card.materials:
        touches = (("peroxide", m.peroxide), ("detergent", m.detergent), ("acetone", m.acetone))
        lines.append(f"  {m.name} ({m.standing.value}): " + "; ".join(f"{n} {t.verdict} {t.why}".strip() for n, t in touches))
    lines.append("Glues")
    for glue in card.adhesives:
        acetone = "carries acetone: never near peroxide before it has aired out; " if glue.carries_acetone else ""
        low, high = glue.cures_hours
        lines.append(f"  {glue.name} ({glue.standing.value}): {acetone}sets in {low:g}-{high:g} h, airs {glue.airs_hours:g} h; "
                     f"undone by {glue.undone_by}; {glue.use}")  # fmt: skip
    return "\n".join(lines)
