"""A description file as tables: what is read from where, what may stand there, and one place changed for one run."""

from collections.abc import Mapping
from typing import Any

from bonebench.errors import FileFault
from bonebench.files.quantities import Quantity, value_of

Table = Mapping[str, Any]


class Reading:
    """One file being read; it notes which defaults the file replaces."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.given: set[str] = set()

    def fault(self, path: str, template: str, **values: str | float) -> FileFault:
        """Return the fault of one place of the file."""
        return FileFault("enclosure.file", "{file}, {path}: " + template, file=self.file, path=path, **values)

    def table(self, whole: Any, path: str, known: Mapping[str, Quantity | None]) -> "Part":
        """Return a table whose keys are all known."""
        if not isinstance(whole, dict):
            raise self.fault(path, "this is to be a table, [{path}]")
        for key in whole:
            if key not in known:
                raise self.fault(f"{path}.{key}", "unknown key; known here: {known}", known=", ".join(known))
        return Part(self, whole, path, known)

    def tables(self, whole: Any, path: str, known: Mapping[str, Quantity | None]) -> list["Part"]:
        """Return the tables of a list."""
        if not isinstance(whole, list):
            raise self.fault(path, "this is to be a list of tables, [[{path}]]")
        return [self.table(each, f"{path}[{n}]", known) for n, each in enumerate(whole)]


class Part:
    """One table of the file."""

    def __init__(self, reading: Reading, whole: Table, path: str, known: Mapping[str, Quantity | None]) -> None:
        self.reading, self.whole, self.path, self.known = reading, whole, path, known

    def into(self, key: str, name: str, values: dict[str, Any], place: str = "") -> None:
        """Put a value under the name its dataclass has, if the file gives it; note the default it replaces."""
        if key not in self.whole:
            return
        quantity = self.known[key]
        path = f"{self.path}.{key}"
        if quantity is None:
            values[name] = self.plain(key)
        else:
            values[name] = value_of(self.whole[key], quantity, path, self.reading.file)
        self.reading.given.add(place or path)

    def plain(self, key: str) -> float:
        """Return a plain number."""
        value = self.whole[key]
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.reading.fault(f"{self.path}.{key}", "'{value}' is to be a plain number", value=str(value))
        return float(value)

    def need(self, key: str) -> float:
        """Return a value that has to be there."""
        quantity = self.known[key]
        if key not in self.whole:
            raise self.reading.fault(f"{self.path}.{key}", "missing; write it like {key} = \"{example}\"", key=key,
                                     example=quantity.example if quantity else "3")  # fmt: skip
        return value_of(self.whole[key], quantity, f"{self.path}.{key}", self.reading.file) if quantity else self.plain(key)

    def whether(self, key: str, default: bool) -> bool:
        """Return a yes or no."""
        value = self.whole.get(key, default)
        if not isinstance(value, bool):
            raise self.reading.fault(f"{self.path}.{key}", "'{value}' is to be true or false", value=str(value))
        return value


def apply_setting(whole: dict[str, Any], setting: str, file: str) -> None:
    """Put one setting into what the file says."""
    path, equals, value = setting.partition("=")
    *way, last = path.strip().split(".")
    at: Any = whole
    try:
        for key in way:
            at = at[int(key)] if isinstance(at, list) else at.setdefault(key, {})
        old = at[int(last)] if isinstance(at, list) else at.get(last)
        if not equals or isinstance(old, dict | list):
            raise ValueError(setting)
        at[int(last) if isinstance(at, list) else last] = _like(old, last, value.strip())
    except (ValueError, IndexError, AttributeError, TypeError) as fault:
        raise FileFault("enclosure.setting", "--set {setting}: no such place in {file}; write it like heater.power=80 W or "
                        "holes.0.count=4", setting=setting, file=file, path=path) from fault  # fmt: skip


def _like(old: object, key: str, text: str) -> object:
    """A setting as its place has it: true or false, a plain number, or words with their unit."""
    if text in ("true", "false"):
        return text == "true"
    if (isinstance(old, int | float) and not isinstance(old, bool)) or key in ("count", "bends", "discharge", "screen_loss"):
        return float(text) if "." in text else int(text)
    return text
