"""What the browser may do: a strict content policy, no writing from another site, and no reading under a stranger's name."""

from collections.abc import Awaitable, Callable
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import Response

from bonebench.said import said
from bonebench.web.faults import refusal

POLICY = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
# A form's files go through the disk, JSON through memory: about twenty photos, or one of the largest.
MOST_FORM = 250_000_000
MOST_JSON = 60_000_000
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
# Nobody outside can own a name that ends so (RFC 6762, RFC 8375; .lan is no top-level domain), or a name without a dot.
HOUSE = (".local", ".lan", ".home.arpa", ".localhost")


def from_elsewhere(request: Request) -> bool:
    """Whether a writing request comes from a page of another site.

    On a plain-HTTP name in the house network browsers send no Sec-Fetch headers, so Origin against Host is what counts there.
    """
    site = request.headers.get("sec-fetch-site")
    if site is not None:
        return site not in ("same-origin", "none")
    origin = request.headers.get("origin")
    return origin is not None and urlsplit(origin).netloc != request.headers.get("host")


def is_ours(host: str, started_as: str | None) -> bool:
    """Whether a Host names this machine.

    A page from outside can have its own name point here and then read what it likes as "same site"; it cannot change the Host.
    """
    try:
        name = urlsplit(f"//{host}").hostname
    except ValueError:
        return False
    if name is None:
        return False
    if "." not in name or name.endswith(HOUSE) or name == (started_as or "").casefold():
        return True
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


def turned_away(request: Request) -> Response | None:
    """Return the refusal of a request that no page of ours sent; None for the others."""
    host = request.headers.get("host", "")
    if not is_ours(host, request.app.state.host):
        words = said(
            "web.host",
            "this program does not answer to the name '{host}': use the address it printed, or start it with --host and that name",
            host=host,
        )
        return refusal(request, words, 421)
    if request.method not in SAFE and from_elsewhere(request):
        return refusal(request, said("web.elsewhere", "this came from another site and was not stored"), 403)
    return too_much(request)


def too_much(request: Request) -> Response | None:
    """Turn away what is too large by what it says of itself; the server holds every request to that."""
    if "transfer-encoding" in request.headers:
        return refusal(request, said("web.length", "this does not say how long it is, so it was not read"), 411)
    length = request.headers.get("content-length", "0")
    limit = MOST_JSON if request.headers.get("content-type", "").startswith("application/json") else MOST_FORM
    if length.isdecimal() and int(length) <= limit:
        return None
    words = said(
        "web.large", "this is larger than {limit} MB and was not read: send fewer photos at a time", limit=limit // 1_000_000
    )
    return refusal(request, words, 413)


async def guard(request: Request, call_next: Callable[[Request], Awaitable[Response]]) -> Response:
    """Turn away what comes from elsewhere and put the headers on every answer."""
    answer = turned_away(request) or await call_next(request)
    for name, value in HEADERS.items():
        answer.headers.setdefault(name, value)
    return answer
