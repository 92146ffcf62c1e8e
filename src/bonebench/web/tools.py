"""A tool is one calculation with a form: what it asks, and the service that answers with a card."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import Request
from starlette.responses import Response

from bonebench.errors import BonebenchError
from bonebench.services.cards import Worked
from bonebench.web.shell import show


@dataclass(frozen=True, slots=True)
class Field:
    """One thing a tool asks for; ``choices`` makes it a row of buttons, ``more`` puts it into the fold.

    ``kind`` is "lines" for many lines of text or "file" for a file to send; a tool with such a field sends its form as a body.
    """

    name: str
    label: str
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    more: bool = False
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Tool:
    """One calculation: its words, what it asks for, and who answers.

    It is asked once one of ``needs`` came along, even empty: a form that was sent. A link may bring other fields to begin with.
    """

    key: str
    title: str
    hint: str
    lede: str
    fields: tuple[Field, ...]
    needs: tuple[str, ...]
    work: Callable[[Request, Mapping[str, str]], Worked]
    action: str

    @property
    def sends(self) -> bool:
        """Whether its form is too long for an address."""
        return any(field.kind for field in self.fields)


def worked_page(
    request: Request, tool: Tool, page: str, home: tuple[str, str], *, template: str = "work.html",
    more: Callable[[Request, Any, Mapping[str, str]], Mapping[str, Any]] | None = None, sent: Mapping[str, str] | None = None,
) -> Response:  # fmt: skip
    """Show a tool with what was typed in the address, or ``sent`` as a body; what cannot be is said on the same page, and nothing
    typed is lost.

    A page of its own names its ``template``, and ``more`` gives what that shows beside the card: drawings and charts.
    """
    typed: Mapping[str, str] = request.query_params if sent is None else sent
    form = {field.name: typed.get(field.name, "").strip() for field in tool.fields}
    card = error = None
    if not tool.needs or (any(name in typed for name in tool.needs) and any(form.values())):
        try:
            card = tool.work(request, form)
        except BonebenchError as fault:
            error = fault.said
    beside = more(request, card, form) if more is not None else {}
    return show(
        request, page, template, status=200 if error is None else 422, tool=tool, card=card, form=form, error=error, home=home,
        **beside,
    )  # fmt: skip
