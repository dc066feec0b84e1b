"""ACI 305 on concrete in the heat: how fast it dries, and how warm it comes out of the drum.

    evaporation(T_c, T_a, r, V)       by Menzel's equation, which the nomograph of ACI 305R draws
    evaporation_uno(T_c, T_a, r, V)   by Uno's, another fit to the same tests; evaporation_uno_us by his US form
    dew_point(T_a, r)                 concrete colder than that gets wet instead
    wind_for(W, T_c, T_a, r)          the wind at which it dries that fast
    as_mixed(...)                     temperature from what goes into the drum, ice among it
    ice_for(...), water_for(...)      and what would bring it where it is wanted

From 0.2 lb/ft2 in an hour on, fresh concrete is protected; mixes that bleed little, from half of that on. The
temperature at discharge stands in `aci306`, beside its opposite.
"""

from batterboard.quantity import (
    Celsius,
    Evaporation,
    MassDensity,
    Number,
    Speed,
    ft2,
    hour,
    kg,
    km_per_h,
    lbm,
    m2,
    mph,
)
from batterboard.working import Document, exp, formula, log, maximum, power

ACI_305R = Document("ACI 305R-10", "Guide to Hot Weather Concreting", scale="fine")
NOMOGRAPH = ACI_305R.clause(
    "evaporation nomograph",
    "memory: Menzel's equation; vapour pressure by Magnus (as Tetens writes it), from memory",
)
UNO = Document("Uno 1998", "ACI Materials Journal 95-M34: plastic shrinkage cracking and evaporation formulas").clause(
    "SI form", "read: a page that quotes it"
)
UNO_US = UNO.document.clause("US form", "memory")
DROPLETS = Document("Magnus formula", "as Tetens writes it", scale="fine").clause("", "memory")
BALANCE = ACI_305R.clause(
    "temperature of fresh concrete", "memory: heat balance; its results without ice checked against a magazine's answer"
)

PROTECT_FROM: Evaporation = 0.2 * lbm / ft2 / hour  # read: pages that quote ACI 305R
WATCH_FROM: Evaporation = PROTECT_FROM / 2  # mixes that bleed little: common practice
SOLIDS_HEAT: Number = 0.22  # specific heat of cement and stone over that of water


@formula(source=NOMOGRAPH, limits="r >= 0; r <= 1; V >= 0")
def evaporation(T_c: Celsius, T_a: Celsius, r: Number, V: Speed) -> Evaporation:
    """Bleed water that dries off an open surface [kg/m2/s]; none where dew falls instead.

    T_c, T_a : concrete and air;  r : relative humidity;  V : wind, 20 in above the surface.  All broadcast.
    """
    e_c_kPa = 0.61078 * exp(17.27 * T_c / (T_c + 237.3))
    e_a_kPa = 0.61078 * exp(17.27 * T_a / (T_a + 237.3))
    e_dry_psi = maximum(e_c_kPa - r * e_a_kPa, 0) / 6.894757
    V_mph = V / mph
    W_psf_h = 0.44 * e_dry_psi * (0.253 + 0.096 * V_mph)
    W = W_psf_h * lbm / ft2 / hour
    return W


@formula(source=NOMOGRAPH, limits="W >= 0; r >= 0; r <= 1")
def wind_for(W: Evaporation, T_c: Celsius, T_a: Celsius, r: Number) -> Speed:
    """Wind at which an open surface dries at the rate W, by the same equation solved for it [m/s]; endless in dew."""
    e_c_kPa = 0.61078 * exp(17.27 * T_c / (T_c + 237.3))
    e_a_kPa = 0.61078 * exp(17.27 * T_a / (T_a + 237.3))
    e_dry_psi = maximum(e_c_kPa - r * e_a_kPa, 0.000000001) / 6.894757
    W_psf_h = W / (lbm / ft2 / hour)
    V_mph = maximum((W_psf_h / (0.44 * e_dry_psi) - 0.253) / 0.096, 0)
    V = V_mph * mph
    return V


@formula(source=UNO, limits="r >= 0; r <= 1; V >= 0")
def evaporation_uno(T_c: Celsius, T_a: Celsius, r: Number, V: Speed) -> Evaporation:
    """The same by another fit [kg/m2/s]; none where dew falls instead.  All broadcast."""
    V_kmh = V / km_per_h
    dry = maximum(power(T_c + 18, 2.5) - r * power(T_a + 18, 2.5), 0)
    E_kgm2h = 5 * dry * (V_kmh + 4) / 1000000
    E = E_kgm2h * kg / m2 / hour
    return E


@formula(source=UNO_US, limits="r >= 0; r <= 1; V >= 0")
def evaporation_uno_us(T_c: Celsius, T_a: Celsius, r: Number, V: Speed) -> Evaporation:
    """The same as Uno writes it in degrees Fahrenheit and miles [kg/m2/s]: 4 to 5 % off his SI form."""
    T_cF = maximum(1.8 * T_c + 32, 0)
    T_aF = maximum(1.8 * T_a + 32, 0)
    dry = maximum(power(T_cF, 2.5) - r * power(T_aF, 2.5), 0)
    V_mph = V / mph
    E_psf_h = dry * (1 + 0.4 * V_mph) / 1000000
    E = E_psf_h * lbm / ft2 / hour
    return E


@formula(source=DROPLETS, limits="r > 0; r <= 1")
def dew_point(T_a: Celsius, r: Number) -> Celsius:
    """Temperature below which the air's water settles [°C]."""
    u = log(r) + 17.27 * T_a / (T_a + 237.3)
    T = 237.3 * u / (17.27 - u)
    return T


@formula(source=BALANCE, limits="C > 0; S > 0; w >= 0; i >= 0; w_s >= 0; T_s >= 0; T_w >= 0")
def as_mixed(
    C: MassDensity,
    S: MassDensity,
    w: MassDensity,
    i: MassDensity,
    w_s: MassDensity,
    T_c: Celsius,
    T_s: Celsius,
    T_w: Celsius,
    c: Number,
) -> Celsius:
    """Temperature of the concrete as mixed [°C].

    C, S : cement and dry stone with sand;  w : mixing water;  i : ice at 0 °C;  w_s : free water of the stone;
    T_c, T_s, T_w : of each;  c : specific heat of solids over water's.  Frozen stone is refused.  All broadcast.
    """
    heat = c * (C * T_c + S * T_s) + w * T_w + w_s * T_s - 79.6 * i
    mass = c * (C + S) + w + i + w_s
    T = heat / mass
    return T


@formula(source=BALANCE, limits="C > 0; S > 0; w >= 0; w_s >= 0")
def water_equivalent(C: MassDensity, S: MassDensity, w: MassDensity, w_s: MassDensity, c: Number) -> MassDensity:
    """Water that takes as much heat for a degree as the whole mix [kg/m3]. Letters as above."""
    m = c * (C + S) + w + w_s
    return m


@formula(source=BALANCE, limits="m > 0")
def ice_for(T: Celsius, T_wanted: Celsius, T_w: Celsius, m: MassDensity) -> MassDensity:
    """Mixing water to be put in as ice, so that a mix of T comes at T_wanted [kg/m3]; none where it is cold enough.

    m : water equivalent of the mix.
    """
    i = m * maximum(T - T_wanted, 0) / (T_w + 79.6)
    return i


@formula(source=BALANCE, limits="m > 0; w > 0")
def water_for(T: Celsius, T_wanted: Celsius, T_w: Celsius, m: MassDensity, w: MassDensity) -> Celsius:
    """How warm the mixing water w must be, so that a mix of T comes at T_wanted [°C]."""
    T_hot = T_w + (T_wanted - T) * m / w
    return T_hot
