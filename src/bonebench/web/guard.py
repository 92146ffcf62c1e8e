"""What the browser may do: a strict content policy, and no writing from another site."""

from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

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
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


def from_elsewhere(request: Request) -> bool:
    """Whether a writing request comes from a page of another site.

    On a plain-HTTP name in the house network browsers send no Sec-Fetch headers, so Origin against Host is what counts there.
    """
    site = request.headers.get("sec-fetch-site")
    if site is not None:
        return site not in ("same-origin", "none")
    origin = request.headers.get("origin")
    return origin is not None and urlsplit(origin).netloc != request.headers.get("host")


async def guard(request: Request, call_next: Callable[[Request], Awaitable[Response]]) -> Response:
    """Refuse writing from elsewhere and put the headers on every answer."""
    if request.method not in SAFE and from_elsewhere(request):
        answer: Response = PlainTextResponse("This came from another site and was not stored.", status_code=403)
    else:
        answer = await call_next(request)
    for name, value in HEADERS.items():
        answer.headers.setdefault(name, value)
    return answer
