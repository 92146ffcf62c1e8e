"""Cards that a photo can be measured by, and how much light they throw back."""

from bonebench.figures import Figure, Standing

# The key, what a person calls it, and its reflectance.
CARDS: dict[str, tuple[str, Figure]] = {
    "grey": ("a photographer's grey card", Figure(0.18, 0.16, 0.20, "1", Standing.PRACTICE, "sold as 18 % grey")),
    "white": ("the white side of a grey card", Figure(0.90, 0.85, 0.92, "1", Standing.MEMORY, "sold as 90 % white")),
    # Printer paper throws back blue where its brighteners meet daylight: the hue is worse known than the lightness.
    "paper": ("white printer paper", Figure(0.85, 0.78, 0.92, "1", Standing.ESTIMATE, "papers differ, and brighteners add blue")),
}
