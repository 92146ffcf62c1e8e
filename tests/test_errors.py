"""The tree of errors: what each carries, and that every one of them can be shown by a face."""

import inspect

from bonebench import errors
from bonebench.errors import BonebenchError, FileFault, Impossible, InputError, OutsideRange, UnknownName


def every_error():
    return [kind for _, kind in inspect.getmembers(errors, inspect.isclass) if issubclass(kind, BonebenchError)]


def test_every_error_is_drawn_in_the_tree_of_the_docstring():
    assert [kind.__name__ for kind in every_error() if kind.__name__ not in (errors.__doc__ or "")] == []


def test_every_error_says_its_words_with_its_values_in_si():
    for kind in every_error():
        fault = kind("bath.volume", "volume is {volume:volume}", volume=0.05)
        assert (str(fault), fault.said.key, fault.said.values) == ("volume is 50 mL", "bath.volume", {"volume": 0.05})


def test_no_error_shows_the_name_of_a_class():
    assert "OutsideRange" not in str(OutsideRange("x", "{what} is {text}", what="mass", text="-1 kg"))


def test_an_input_error_covers_every_way_of_asking_wrongly():
    assert {OutsideRange, Impossible, UnknownName, errors.NotAQuantity} <= set(InputError.__subclasses__())


def test_a_fault_in_a_file_carries_the_path_inside_it():
    fault = FileFault("methods.file", "{file}, {path}: not a number", file="methods.toml", path="hot-pot.days")
    assert (fault.path, str(fault)) == ("hot-pot.days", "methods.toml, hot-pot.days: not a number")
    assert Impossible("x", "no").path is None


def test_an_unknown_name_carries_what_it_could_be():
    assert UnknownName("x", "no fix", could_be=("red fox", "gray fox")).could_be == ("red fox", "gray fox")
    assert UnknownName("x", "no fix").could_be == ()
