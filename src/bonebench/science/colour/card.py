"""The colour of a region of bone, measured against a card of known reflectance in the same photo."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colour.space import FloatArray, linear_to_lab, srgb_to_linear

# Codes at which a channel is taken as cut off: a camera's curve flattens before 255, and storing as JPEG rings by a few codes.
CLIPPED_CODE = 250
MOST_CLIPPED = 0.01
# Below this code one step is more than 3 % of the light, and phones lift or crush the dark end.
DARKEST_CARD_CODE = 60
FEWEST_PIXELS = 400
# From here on the light over the card is called uneven, and what is in its box more than a card. Our own bounds, no source.
UNEVEN_FROM = 0.05
SPECKLED_FROM = 0.08


@dataclass(frozen=True, slots=True)
class Box:
    """A region of a picture as shares of its width and height: left, top, width, height, each 0 to 1."""

    left: float
    top: float
    width: float
    height: float

    def overlaps(self, other: "Box") -> bool:
        """Whether two regions share any of the picture."""
        across = self.left < other.left + other.width and other.left < self.left + self.width
        return across and self.top < other.top + other.height and other.top < self.top + self.height


@dataclass(frozen=True, slots=True)
class Measured:
    """Colour of the bone's region: mean L*, a*, b* and the spread of each over the region (standard deviation).

    ``uneven`` is by which share the light differs over the card, ``speckle`` the spread of light within its quarters; ``card_code``
    the card's mean 8-bit code in its darkest channel; ``pixels`` how many the bone's region has.
    """

    lab: tuple[float, float, float]
    spread: tuple[float, float, float]
    uneven: float
    speckle: float
    card_code: float
    pixels: int


def measure(picture: npt.NDArray[np.uint8], card: Box, bone: Box, reflectance: float) -> Measured:
    """Colour of a region of bone against a card in the same picture.

    Parameters
    ----------
    picture : ndarray of uint8, shape (height, width, 3)
        Coded sRGB. [-]
    card, bone : Box
        The two regions; they may not overlap. [share of the picture]
    reflectance : float
        Of the card, the same for all three channels, 0.02 to 1. [-]

    Returns
    -------
    Measured
        Mean and spread in CIELAB under D65, and how even the light over the card is. [-]

    Raises
    ------
    OutsideRange
        If a box leaves the picture or is too small, if the reflectance is none, if more than a hundredth of a region is too bright
        to measure, or if the card is too dark.
    Impossible
        If the two boxes overlap.

    Notes
    -----
    Each channel is scaled by the card, which takes exposure and the hue of the light out together (a diagonal adaptation). What
    the camera did to contrast and colour, gloss, light reflected by coloured things near by, and brighteners in paper are left in.

    References
    ----------
    .. [1] IEC 61966-2-1:1999; CIE 15:2004, section 8.2.1.
    """
    if not 0.02 <= reflectance <= 1:
        raise OutsideRange(
            "colour.reflectance", "the card reflects {share:percent}; a card of 2 % to 100 % can be used", share=reflectance
        )
    on_card, on_bone = _region(picture, card, "card"), _region(picture, bone, "bone")
    if card.overlaps(bone):
        raise Impossible("colour.overlap", "the two boxes overlap: one is for the card alone, one for the bone alone")
    for region, name in ((on_card, "card"), (on_bone, "bone")):
        _refuse_clipped(region, name)
    code = float(on_card.mean(axis=(0, 1)).min())
    if code < DARKEST_CARD_CODE:
        raise OutsideRange(
            "colour.dark", "the card is too dark to measure by (code {code} of 255, {least} is needed): take it with more light",
            code=round(code), least=DARKEST_CARD_CODE,
        )  # fmt: skip
    light = srgb_to_linear(on_card / 255.0)
    lab = linear_to_lab(srgb_to_linear(on_bone / 255.0) * reflectance / light.mean(axis=(0, 1))).reshape(-1, 3)
    uneven, speckle = _evenness(light.mean(axis=2))
    mean, spread = lab.mean(axis=0), lab.std(axis=0)
    return Measured(
        (float(mean[0]), float(mean[1]), float(mean[2])), (float(spread[0]), float(spread[1]), float(spread[2])),
        uneven, speckle, code, len(lab),
    )  # fmt: skip


def _region(picture: npt.NDArray[np.uint8], box: Box, name: str) -> npt.NDArray[np.uint8]:
    inside = min(box.left, box.top) >= 0 and box.left + box.width <= 1 + 1e-9 and box.top + box.height <= 1 + 1e-9
    if not inside or not (box.width > 0 and box.height > 0):
        raise OutsideRange("colour.box", "the box of the {name} does not lie inside the picture", name=name)
    height, width = picture.shape[:2]
    top, left = round(box.top * height), round(box.left * width)
    region = picture[top : round((box.top + box.height) * height), left : round((box.left + box.width) * width)]
    if region.shape[0] * region.shape[1] < FEWEST_PIXELS or min(region.shape[:2]) < 4:
        raise OutsideRange(
            "colour.few", "the box of the {name} has {count} pixels; at least {least} are needed: mark more, or go nearer",
            name=name, count=region.shape[0] * region.shape[1], least=FEWEST_PIXELS,
        )  # fmt: skip
    return region


def _refuse_clipped(region: npt.NDArray[np.uint8], name: str) -> None:
    share = float((region >= CLIPPED_CODE).any(axis=2).mean())
    if share > MOST_CLIPPED:
        raise OutsideRange(
            "colour.bright", "{share:percent} of the {name} is too bright to measure: take it again with a darker exposure",
            share=share, name=name,
        )  # fmt: skip


def _evenness(light: FloatArray) -> tuple[float, float]:
    """How much the light differs between the quarters of the card, and how much it scatters within them."""
    rows, columns = light.shape[0] // 2, light.shape[1] // 2
    quarters = [light[:rows, :columns], light[:rows, columns:], light[rows:, :columns], light[rows:, columns:]]
    means = [float(quarter.mean()) for quarter in quarters]
    within = float(np.mean([quarter.std() for quarter in quarters]))
    return (max(means) - min(means)) / float(light.mean()), within / float(light.mean())
