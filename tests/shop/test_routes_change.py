"""A room that changes its way lets what is under way go on as it was begun."""

from bonebench.reference.methods import load_methods
from bonebench.shop.entries import Moved, Received
from bonebench.shop.methods import Size
from bonebench.shop.room import Place, Room
from bonebench.shop.routes import Facts, route_of, stand
from bonebench.shop.steps import PlaceKind, Step

from .logbook import entry, fox

POT = Place("pot", "Pot", PlaceKind.POT)
IN_POT = fox(entry(1, Received("K7Q-K", "red-fox")), entry(2, Moved("pot", Step.DEGREASE, method="warm-pot")))


def test_a_piece_in_the_pot_stays_in_its_step_when_the_room_gives_degreasing_up():
    room = Room(places=(POT,), methods={Step.DEGREASE: "no-degreasing"})
    standing = stand(IN_POT, route_of(IN_POT, Facts(Size.SMALL, 2, False), room, load_methods()), room)
    assert (standing.leg.step, standing.leg.method.key) == (Step.DEGREASE, "warm-pot")


def test_a_piece_in_the_warm_pot_is_not_taken_for_one_in_the_hot_pot():
    room = Room(places=(POT,), methods={Step.DEGREASE: "hot-pot"})
    route = route_of(IN_POT, Facts(Size.SMALL, 2, False), room, load_methods())
    assert next(leg for leg in route if leg.step is Step.DEGREASE).method.key == "warm-pot"
