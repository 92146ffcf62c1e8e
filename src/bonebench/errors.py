"""What we raise on purpose.

BonebenchError
├── InputError            a calculation or plan asked for with input it cannot use
│   ├── NotAQuantity      "ten buckets" where a volume was wanted
│   ├── OutsideRange      a number outside what a formula or rule holds for
│   ├── Impossible        numbers that contradict each other
│   └── UnknownName       a species, place, person, tag or method nobody knows; carries what it could be
├── BookError             the data file or database
│   ├── BookMissing
│   ├── BookTooNew        made by a newer Bonebench
│   ├── BookNotWritable   read-only folder or file, full disk
│   ├── BookBusy          another writer held it too long
│   └── BookDamaged       not a book, or fails its checks
├── EntryUnreadable       an entry of an unknown kind or form, or with values of the wrong shape
├── FileFault             a settings or what-if file that cannot be used; carries the path inside the file
└── SetUpError            the machine: a port in use, a missing part

Each carries a `Said`, so that every face says the same words: one line on the command line, one message on a page.
"""

from .said import Plain, Said, said


class BonebenchError(Exception):
    """Something a person can mend, said in one sentence."""

    def __init__(self, key: str, template: str, /, **values: Plain) -> None:
        self.said: Said = said(key, template, **values)
        super().__init__(self.said.text)

    @property
    def path(self) -> str | None:
        """Where in the input the fault is, when that is known."""
        where = self.said.values.get("path")
        return None if where is None else str(where)


class InputError(BonebenchError):
    """A calculation or plan asked for with input it cannot use."""


class NotAQuantity(InputError):
    """Text that could not be read as the quantity that was wanted."""


class OutsideRange(InputError):
    """A number outside what a formula or a rule holds for."""


class Impossible(InputError):
    """Numbers that contradict each other."""


class UnknownName(InputError):
    """A name nobody knows; `could_be` lists the nearest known ones."""

    def __init__(self, key: str, template: str, /, could_be: tuple[str, ...] = (), **values: Plain) -> None:
        super().__init__(key, template, **values)
        self.could_be = could_be


class BookError(BonebenchError):
    """The data file or database."""


class BookMissing(BookError):
    """There is no book where it was looked for."""


class BookTooNew(BookError):
    """The book was made by a newer Bonebench."""


class BookNotWritable(BookError):
    """The book, its folder or its disk takes no more writing."""


class BookBusy(BookError):
    """Another writer held the book for too long."""


class BookDamaged(BookError):
    """The file is not a book, or fails its checks."""


class EntryUnreadable(BonebenchError):
    """An entry this program cannot read."""


class FileFault(BonebenchError):
    """A file that cannot be used, with the path inside it."""


class SetUpError(BonebenchError):
    """The machine lacks something: a free port, a package, a browser."""
