"""The plan of a room on plain data: no database, no clock, no pages.

| to | call | gives |
|---|---|---|
| describe the room | `problem.Problem` | pieces with stages, places, people, appetite |
| have a plan at once | `rules.best_plan(problem)` | `Plan`, the best of three simple rules |
| turn one order into times | `planned.planned(Prepared(problem), order)`; in words alone `dispatch.dispatch` | `Plan` |
| look for a better one (a job) | `better.better_plan(problem, start=, out_of_time=)` | `Better`: plan, bound, notes |
| only search | `search.search(problem)`, `rolling.search_rolling(problem)` for thousands | `Searched` |
| plan again another day | `replan.replan(Before.of(plan), problem)` | `Replanned`: plan, what moved and why |
| say why nothing fits | `clash.why_nothing_fits(problem, keys)` | sentences |
| say what is odd about the input | `notes.notes(problem)` | sentences |
| promise dates (a job) | `promise.promise(problem, plan.order, Uncertain(...), executor=)` | `Promised` for each piece |
| quote for a new piece | `promise.quote(problem, plan.order, piece, Uncertain(...))` | `Promised` |
| look at the season | `season.inflow`, `season.filling`, `season.last_day_to_accept` | months, how full, a day |
| ask what if | `what_if.side_by_side(problem, {"one more pot": what_if.more_of("pot")})` | a `Side` for each, one by one |
| thaw and freeze again | `front.on_the_shelf(mass, shelf_c)`, `front.outdoors(today, warmest_c)` | stages, until when |

What tries many orders or draws, or plans a large room, imports `quick` and with it numba, whose first call compiles for half
a minute where nothing is kept; `quick.warm()` does that ahead of time. `solver` alone knows OR-Tools and imports it when asked.
"""
