"""What the flesh and bone of a head take to warm and to thaw."""

from dataclasses import dataclass

WATER_LATENT_J_KG = 333.6e3
REFERENCE_C = -20.0  # the latent heat is that of the ice there is at this temperature


@dataclass(frozen=True, slots=True)
class Flesh:
    """Heat and conduction of tissue from how much water it holds.

    Parameters
    ----------
    water : float
        Water in it, above 0 to 1. [kg/kg]
    freezable : float
        Share of that water that is ice at -20 degC, above 0 to 1. [kg/kg]
    freezing_point_c : float
        Where the first ice comes, below 0. [degC]

    Notes
    -----
    Fat is left out: it melts too, over a wide range, and holds less heat. The specific heats are kJ, the conductivities W.

    References
    ----------
    .. [1] Earle R.L., Earle M.D. Unit Operations in Food Processing, appendix 7 (nzifst.org.nz): specific heat and
       conductivity above and below freezing from the share of water; the authors call them a considerable simplification.
    .. [2] ASHRAE Handbook - Refrigeration, thermal properties of foods: latent heat from the share of water.
    """

    water: float
    freezable: float
    freezing_point_c: float

    @property
    def latent_j_kg(self) -> float:
        """Heat to melt the ice there is at -20 degC. [J/kg]"""
        return WATER_LATENT_J_KG * self.water * self.freezable

    @property
    def thawed_j_kg_k(self) -> float:
        """Specific heat above freezing. [J/(kg K)]"""
        return 4190 * self.water + 840 * (1 - self.water)

    @property
    def frozen_j_kg_k(self) -> float:
        """Specific heat below freezing, without the ice that still melts. [J/(kg K)]"""
        return 2100 * self.water + 840 * (1 - self.water)

    @property
    def thawed_w_m_k(self) -> float:
        """Conductivity above freezing. [W/(m K)]"""
        return 0.55 * self.water + 0.26 * (1 - self.water)

    @property
    def frozen_w_m_k(self) -> float:
        """Conductivity below freezing. [W/(m K)]"""
        return 2.4 * self.water + 0.26 * (1 - self.water)

    def w_m_k(self, temperature_c: float) -> float:
        """Conductivity with the ice there is at a temperature.

        Parameters
        ----------
        temperature_c : float
            Temperature of the flesh. [degC]

        Returns
        -------
        float
            Between that of thawed and of frozen flesh. [W/(m K)]
        """
        ice = min(1.0, self.ice_share(temperature_c))
        return ice * self.frozen_w_m_k + (1 - ice) * self.thawed_w_m_k

    def ice_share(self, temperature_c: float) -> float:
        """How much ice there is, as a share of what there is at -20 degC.

        Parameters
        ----------
        temperature_c : float
            Temperature of the flesh. [degC]

        Returns
        -------
        float
            0 at the freezing point and above, 1 at -20 degC, a little more below.

        References
        ----------
        .. [1] Chen C.S. 1985. J. Food Sci. 50:1158-1162: ice goes as 1 - freezing point / temperature (from memory).
        """
        if temperature_c >= self.freezing_point_c:
            return 0.0
        point = self.freezing_point_c
        return (1 - point / temperature_c) / (1 - point / REFERENCE_C)
