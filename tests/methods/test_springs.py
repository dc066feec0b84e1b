"""Members on springs: against closed forms, by equilibrium, and variant by variant."""

import numpy as np
import pytest
from pytest import approx

from batterboard.methods.springs import Frame, footing_springs

PINNED = 1e16  # as good as fixed beside members of 1e9 N


def tied(turning, bending=6e7, span=5.0):
    """Two footings that only turn, joined by a beam."""
    two = np.ones((2, 1)) if np.ndim(turning) or np.ndim(bending) or np.ndim(span) else np.ones(2)
    return Frame(
        x=np.array([0 * np.asarray(span), np.asarray(span)]),
        z=[0.0, 0.0],
        members=((0, 1),),
        axial=[1e9],
        bending=np.array([bending]),
        spring_u=[PINNED, PINNED],
        spring_w=[PINNED, PINNED],
        spring_theta=turning * two,
    )


def cantilever(x, z, EI=2e6, EA=1e9):
    n = len(x) - 1
    return Frame(
        x=x,
        z=z,
        members=tuple((i, i + 1) for i in range(n)),
        axial=[EA] * n,
        bending=[EI] * n,
        spring_u=[PINNED] + [0] * n,
        spring_w=[PINNED] + [0] * n,
        spring_theta=[PINNED] + [0] * n,
    )


def test_a_footing_on_soil_turns_by_its_moment_over_its_spring():
    # 4'-6" by 4 ft on 100 pci under 2630 lb ft; a 13 ft leaf drops by 0.08 in.
    pci = 4.4482216152605 / 0.0254**3
    down, turning = footing_springs(100 * pci, 48 * 0.0254, 54 * 0.0254)
    theta = 2630 * 4.4482216152605 * 0.3048 / turning
    assert theta * 13 * 12 == approx(0.08, abs=5e-3)
    assert turning == approx(down * (54 * 0.0254) ** 2 / 12)


def test_a_tie_beam_shares_the_turn_of_two_footings():
    ks, EI, span, M = 7.4e6, 6e7, 5.0, 3500.0
    u, w, theta = tied(ks).displaced([0, 0], [0, 0], [M, 0])
    i = EI / span
    assert theta == approx(np.linalg.solve([[ks + 4 * i, 2 * i], [2 * i, ks + 4 * i]], [M, 0]), rel=1e-6)
    assert u == approx([0, 0], abs=1e-12)
    assert w == approx([0, 0], abs=1e-12)


def test_a_cantilever_sags_by_its_closed_form():
    P, L, EI = 900.0, 3.0, 2e6
    u, w, theta = cantilever([0, L], [0, 0]).displaced([0, 0], [0, -P], [0, 0])
    assert w[1] == approx(-P * L**3 / (3 * EI), rel=1e-6)
    assert theta[1] == approx(-P * L**2 / (2 * EI), rel=1e-6)
    assert u == approx([0, 0], abs=1e-15)


@pytest.mark.parametrize("angle", [0.0, 0.4, 1.5, 2.9, -2.0])
def test_turning_a_frame_and_its_loads_turns_its_displacements(angle):
    c, s = np.cos(angle), np.sin(angle)
    L, P, N, M, EI, EA = 2.0, 500.0, 4e4, 300.0, 2e6, 1e9
    frame = cantilever([0, c * L], [0, s * L])
    u, w, theta = frame.displaced([0, N * c - P * s], [0, N * s + P * c], [0, M])
    assert c * u[1] + s * w[1] == approx(N * L / EA, rel=1e-5)
    assert -s * u[1] + c * w[1] == approx(P * L**3 / (3 * EI) + M * L**2 / (2 * EI), rel=1e-5)
    assert theta[1] == approx(P * L**2 / (2 * EI) + M * L / EI, rel=1e-5)


def test_a_member_may_be_cut_in_two_without_changing_anything():
    load = [0, 0, 700.0], [0, 0, -900.0], [0, 0, 50.0]
    whole = cantilever([0, 1.5, 3.0], [0, 0.5, 1.0]).displaced(*load)
    single = cantilever([0, 3.0], [0, 1.0]).displaced(*([v[0], v[2]] for v in load))
    for two, one in zip(whole, single, strict=True):
        assert two[2] == approx(one[1], rel=1e-6)


def portal(ks=27e6, EI_tie=3e7):
    """Two piers 1.2 m high on soil, joined at 0.5 m by a tie beam, as seen along the gate."""
    down, turning = footing_springs(ks, 1.2, 1.4)
    four = np.array([1.0, 1, 0, 0, 0, 0])
    four = four[:, None] if np.ndim(ks) else four
    return Frame(
        x=[0, 4.6, 0, 4.6, 0, 4.6],
        z=[0, 0, 0.5, 0.5, 1.2, 1.2],
        members=((0, 2), (2, 4), (1, 3), (3, 5), (2, 3)),
        axial=[8e9, 8e9, 8e9, 8e9, 5e9],
        bending=[2e8, 2e8, 2e8, 2e8, EI_tie],
        spring_u=0.7 * down * four,
        spring_w=down * four,
        spring_theta=turning * four,
    )


LOADS = np.array([0, 0, 0, 0, 900.0, 300]), np.array([0, 0, 0, 0, -4e3, -1e3]), np.array([0, 0, 0, 0, 3500.0, 0])


def test_soil_and_loads_are_in_equilibrium():
    frame = portal()
    u, w, theta = frame.displaced(*LOADS)
    x, z = np.array(frame.x), np.array(frame.z)
    across, up, turn = (
        -np.array(k) * d for k, d in ((frame.spring_u, u), (frame.spring_w, w), (frame.spring_theta, theta))
    )
    fx, fz, m = LOADS[0] + across, LOADS[1] + up, LOADS[2] + turn
    assert [fx.sum(), fz.sum(), (m + x * fz - z * fx).sum()] == approx([0, 0, 0], abs=1e-5)


def test_each_node_is_in_equilibrium_with_its_members():
    frame = portal()
    moved = frame.displaced(*LOADS)
    along, across, moment = frame.end_forces(*moved)
    x, z = np.array(frame.x), np.array(frame.z)
    left = [
        LOADS[0] - frame.spring_u * moved[0],
        LOADS[1] - frame.spring_w * moved[1],
        LOADS[2] - frame.spring_theta * moved[2],
    ]
    for m, ends in enumerate(frame.members):
        length = np.hypot(x[ends[1]] - x[ends[0]], z[ends[1]] - z[ends[0]])
        c, s = (x[ends[1]] - x[ends[0]]) / length, (z[ends[1]] - z[ends[0]]) / length
        for end, node in enumerate(ends):
            left[0][node] -= c * along[m, end] - s * across[m, end]
            left[1][node] -= s * along[m, end] + c * across[m, end]
            left[2][node] -= moment[m, end]
    assert np.abs(left) == approx(np.zeros((3, 6)), abs=1e-5)


def test_displacements_are_mutual():
    flexibility = portal().flexibility
    assert flexibility == approx(flexibility.T, rel=1e-9, abs=1e-20)


def test_a_stiffer_tie_and_stiffer_soil_turn_the_piers_less():
    turned = [portal(EI_tie=EI).displaced(*LOADS)[2][4] for EI in (1e3, 1e7, 1e8)]
    assert turned[0] > turned[1] > turned[2] > 0
    turned = portal(np.array([10e6, 20e6, 40e6])).displaced(*LOADS)[2][4]
    assert turned[0] > turned[1] > turned[2] > 0


def test_variants_and_cases_give_what_each_gives_alone():
    ks = np.array([10e6, 27e6, 60e6])
    cases = [np.stack([v, -2 * v], axis=1)[:, :, None] for v in LOADS]  # (nodes, cases, 1)
    frame = portal(ks)
    moved = frame.displaced(*cases)
    forces = frame.end_forces(*moved)
    assert moved[0].shape == (6, 2, 3)
    assert forces[0].shape == (5, 2, 2, 3)
    for v, k in enumerate(ks):
        alone = portal(k)
        for case, factor in enumerate((1, -2)):
            one = alone.displaced(*(factor * load for load in LOADS))
            for together, single in zip(moved, one, strict=True):
                assert together[:, case, v] == approx(single, rel=1e-9)
            for together, single in zip(forces, alone.end_forces(*one), strict=True):
                assert together[:, :, case, v] == approx(single, rel=1e-6, abs=1e-3)
    span = tied(7e6, span=np.array([3.0, 5.0])).displaced([0, 0], [0, 0], [3500.0, 0])[2]
    assert span[:, 1] == approx(tied(7e6).displaced([0, 0], [0, 0], [3500.0, 0])[2])


def test_a_loose_frame_is_not_a_number_and_leaves_the_others_standing():
    u, w, theta = portal(np.array([27e6, 0.0, np.nan])).displaced(*LOADS)
    assert np.isfinite([u[:, 0], w[:, 0], theta[:, 0]]).all()
    assert np.isnan([u[:, 1:], w[:, 1:], theta[:, 1:]]).all()
    hinged = Frame(
        x=[0, 2.0], z=[0, 0], members=((0, 1),), axial=[1e9], bending=[1e6],
        spring_u=[1e9, 0], spring_w=[1e9, 0], spring_theta=[0, 0],
    )  # fmt: skip
    assert np.isnan(hinged.displaced([0, 0], [0, -1.0], [0, 0])[1]).all()
