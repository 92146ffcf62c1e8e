"""The cards of baths."""

from dataclasses import dataclass

from bonebench.services.cards import Basis, Caution, Flag, Said


@dataclass(frozen=True)
class MixCard:
    """What to pour for a bath. ``strength`` and ``naive_strength`` are mass fractions; a card without cautions cannot be made.

    ``naive_strength`` is what the simple rule of volumes would have given. ``steps`` are the pours in the order to pour them.
    """

    stock: float
    strength: float
    volume_l: float
    temperature_c: float
    stock_kg: float
    stock_l: float
    water_kg: float
    water_l: float
    density_kg_m3: float
    naive_stock_l: float
    naive_strength: float
    strength_w_v_percent: float
    strength_volumes: float
    oxygen_l: float
    heat_rise_k: float
    boils: bool
    steps: tuple[Said, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "bath.mix/1"

    def __post_init__(self) -> None:
        if not self.cautions:
            raise ValueError("a mix card must carry its cautions")


@dataclass(frozen=True)
class ConvertCard:
    """One strength written another way; ``value`` is in percent for w/w and w/v."""

    value: float
    unit: str
    strength: float
    temperature_c: float
    said: Said
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "bath.convert/1"
