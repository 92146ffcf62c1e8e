"""The page of prices, and cost beside dates and lateness on the page What if."""


def test_prices_are_shown_and_set_and_a_slip_is_said_with_nothing_lost(pages):
    html = pages.get("/prices").text
    assert "22.00 USD" in html
    answer = pages.post("/prices", data={"currency": "USD", "pot-day": "dear", "kwh": "0.20"})
    assert answer.status_code == 422
    assert "&#39;dear&#39; is no price" in answer.text
    assert 'value="dear"' in answer.text
    assert pages.post("/prices", data={"currency": "USD", "kwh": "0.20"}).status_code == 303
    found = {one["key"]: one["price"] for one in pages.get("/api/v1/prices").json()["prices"]}
    assert (found["kwh"], found["hour"]) == ("0.20", "22.00")


def test_prices_are_set_as_json_and_what_cannot_be_is_refused(pages):
    card = pages.post("/api/v1/prices", json={"prices": {"finish": "1.20"}, "since": "2026-01-01"}).json()
    assert (card["schema"], card["currency"]) == ("prices/1", "USD")
    assert next(one for one in card["prices"] if one["key"] == "finish")["since"] == "2026-01-01"
    refused = pages.post("/api/v1/prices", json={"prices": {"finnish": "1.20"}})
    assert refused.status_code == 404
    assert "has a price here" in refused.json()["error"]["text"]


def test_cost_stands_beside_dates_and_lateness_with_what_is_used(pages):
    html = pages.get("/what-if?tick=one+more+pot&tick=no+whitening&buys:one+more+pot=45").text
    assert html.index("Late days") < html.index("Last through") < html.index("Cost from now on")
    assert "having it at all: 45.00 USD" in html
    assert "our own hands: " in html
    assert " less.</b>" in html  # without whitening it is cheaper
    assert 'value="45"' in html


def test_a_sum_that_is_none_is_said_beside_the_ticks(pages):
    answer = pages.get("/what-if?tick=one+more+pot&buys:one+more+pot=dear")
    assert answer.status_code == 422
    assert "&#39;dear&#39; is no price" in answer.text
    assert pages.get("/what-if?tick=one+more+pot&buys:one+more+pot=%3Cscript%3E").status_code == 422
