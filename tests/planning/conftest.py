"""`pytest tests/planning -k jobshop --instance ft10` tries any job-shop instance of the published set."""

DEFAULT = ("ft06", "la01", "la05", "la16")


def pytest_addoption(parser):
    parser.addoption("--instance", action="append", default=[], help="a job-shop instance by name, such as ft10; may be repeated")


def pytest_generate_tests(metafunc):
    if "instance" in metafunc.fixturenames:
        # The option is known only where this folder was named on the command line.
        asked = metafunc.config.getoption("--instance", default=None)
        metafunc.parametrize("instance", asked or DEFAULT)
