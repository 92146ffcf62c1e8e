"""What whoever looks in is told while nobody of the room is there: what to do each time, when to call, what never to do.

It is written for somebody who has never seen the box. Common practice, no source, unless a line says so.
"""

from collections.abc import Sequence

from bonebench.said import Said, said
from bonebench.science.colony.feeding import Away
from bonebench.science.colony.limits import DAMP, DEADLY_C, DRY, SUFFER_C
from bonebench.services.colony.cards import Neighbour
from bonebench.shop.cautions import Caution, Rows, for_box, for_colony, merged

COLD_C = 15.0  # feeding is said to stop below about 60 F (a keeper's page), growth below 14.5 degC
GAS = "gas heater"


def neighbour(load: Away, features: Sequence[str]) -> Neighbour:
    """Return the sheet for these days; ``features`` are what the room has."""
    return Neighbour(daily=_daily(load), call=_call(features), never=_never())


def neighbour_cautions(rows: Rows, features: Sequence[str]) -> tuple[Caution, ...]:
    """Return what can hurt somebody who looks in, the loudest first."""
    return merged(rows, for_colony(rows), for_box(rows, heated=True, unvented=False, cut=GAS in features))


def _daily(load: Away) -> tuple[Said, ...]:
    return (
        said("colony.sheet.mask", "Mask and gloves on. Smell and look first: an alarm, smoke or gas means out, and call"),
        said("colony.sheet.read", "Read the thermometer and the damp through the glass, and write both down below"),
        said("colony.sheet.plug", "Unplug the heater before hands go in"),
        said(
            "colony.sheet.pad",
            "Wet the paper pad in its dish, dripping nowhere: every day or so, it is all they drink. A mouldy one goes out, bagged",
        ),
        said(
            "colony.sheet.food",
            "Food only if all dried meat is gone: one handful from the tin I left, no more than {dried:mass} in all the time",
            dried=load.dried_kg.high,
        ),
        said("colony.sheet.strays", "A beetle or larva outside goes into the jar with its lid, and the jar into the freezer"),
        said("colony.sheet.shut", "Lid shut tight, plug in, and stay until the heater has answered. Wash your hands"),
    )


def _call(features: Sequence[str]) -> tuple[Said, ...]:
    lines = [
        said("colony.sheet.cold", "below {cold:temperature}: call me today", cold=COLD_C),
        said("colony.sheet.warm", "above {warm:temperature}: call me now", warm=SUFFER_C),
        said(
            "colony.sheet.hot",
            "above {hot:temperature}: unplug the heater first and open the lid a hand's width, screen on; then call me",
            hot=DEADLY_C,
        ),
        said(
            "colony.sheet.damp",
            "damp above {damp:percent} or drops on the walls: no water, and call me; below {dry:percent}: a wetter pad",
            damp=DAMP, dry=DRY,
        ),
        said("colony.sheet.odd", "a foul smell, mould, flies, moving dust, or nothing that moves: call me, and put nothing in"),
        said("colony.sheet.smoke", "smoke, fire or an alarm: everybody out, then the fire service; nobody goes back in"),
    ]  # fmt: skip
    if GAS in features:
        lines.append(
            said(
                "colony.sheet.gas",
                "smell of gas: touch no switch and no phone; out, and call the gas supplier from outside",
            )
        )
    return tuple(lines)


def _never() -> tuple[Said, ...]:
    return (
        said("colony.sheet.never.hands", "never put hands in while the heater is plugged in"),
        said("colony.sheet.never.out", "never take beetles, heads or bedding out, never let one go, give none away"),
        said("colony.sheet.never.spray", "never spray, smoke, burn, clean or glue anything there: what kills a fly kills them"),
        said("colony.sheet.never.food", "never feed anything but what is in my tin: nothing salted, smoked, cooked, or found dead"),
        said("colony.sheet.never.wet", "never pour water onto bedding or bones, and leave no open dish they can drown in"),
        said("colony.sheet.never.cover", "never lay a blanket on the box or put another heater, lamp or flame near it"),
        said("colony.sheet.never.open", "never leave lid, screen or door open, and bring no child, no pet and no food in"),
        said("colony.sheet.never.set", "never turn the thermostat, the fan or the cut-out: call me instead"),
    )
