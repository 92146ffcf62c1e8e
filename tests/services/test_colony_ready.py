"""What is compiled ahead is what a promise of a counted colony needs: no second form of the code is compiled when one is asked."""

from bonebench.planning.quick import warm
from bonebench.science.colony.run import run_many
from bonebench.science.scheduling.engine import _times
from bonebench.services.colony import ready
from bonebench.services.promise.do import for_quote
from bonebench.services.promise.quote import AskedQuote, quoted

from .hands import take_in


def test_a_promise_of_a_counted_colony_compiles_nothing_that_was_not_compiled_ahead(desk):
    warm()
    ready.warm_up()
    ahead = (tuple(run_many.signatures), tuple(_times.signatures))
    box = next(place for place in desk.room().places if place.kind == "beetle box")
    desk.tap(kind="colony-seen", subjects=[f"place:{box.key}"], values={"counted": 60, "part": 0.02, "temperature_c": 27})
    take_in(desk, promised="2026-08-01")
    gathered = desk.read(for_quote)
    assert gathered.known.appetites.boxes.keys() == {box.key}
    assert quoted(AskedQuote(species="raccoon"), gathered).p80 is not None
    assert (tuple(run_many.signatures), tuple(_times.signatures)) == ahead
