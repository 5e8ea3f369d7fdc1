"""Plates by finite elements, for what the program says of panels: scikit-fem where the two directions differ (Morley's
triangles), PyNite where they do not. Neither knows the program's formulas.
"""

import numpy as np
import scipy.sparse.linalg
from skfem import Basis, BilinearForm, ElementTriMorley, LinearForm, MeshTri, condense
from skfem.helpers import dd


def orthotropic(sides, thickness, moduli, shear, poisson, force, middle, size, free, divisions=40):
    """(sag, moment along x, moment along y), each at its greatest: mm, N mm/mm. `free` leaves the edges at y = 0 and y = b free."""
    (a, b), (ex, ey) = sides, moduli
    nu_yx = poisson * ey / ex
    bend = thickness**3 / 12
    dx, dy = (e * bend / (1 - poisson * nu_yx) for e in (ex, ey))
    d1, dxy = poisson * dy, shear * bend
    stops = []
    for length, at, wide in zip(sides, middle, size):
        n = max(8, int(divisions * length / min(sides)))
        edges = np.concatenate([np.linspace(0, length, n + 1), [at - wide / 2, at, at + wide / 2]])
        stops.append(np.unique(edges.clip(0, length).round(6)))
    mesh = MeshTri.init_tensor(*stops)
    basis = Basis(mesh, ElementTriMorley(), intorder=4)

    @BilinearForm
    def stiffness(u, v, _):
        u, v = dd(u), dd(v)
        both = u[0, 0] * v[1, 1] + u[1, 1] * v[0, 0]
        return dx * u[0, 0] * v[0, 0] + dy * u[1, 1] * v[1, 1] + d1 * both + 4 * dxy * u[0, 1] * v[0, 1]

    @LinearForm
    def pressure(v, w):
        x, y = w.x
        inside = (abs(x - middle[0]) < size[0] / 2 + 1e-6) & (abs(y - middle[1]) < size[1] / 2 + 1e-6)
        return force / (size[0] * size[1]) * inside * v

    held = mesh.nodes_satisfying(
        lambda p: (p[0] < 1e-9) | (p[0] > a - 1e-9) | (not free) & ((p[1] < 1e-9) | (p[1] > b - 1e-9))
    )
    load = pressure.assemble(basis)
    assert abs(load[basis.nodal_dofs[0]].sum() - force) < 0.02 * abs(force)
    system, right, at, inner = condense(stiffness.assemble(basis), load, D=basis.nodal_dofs[0, held])
    at = np.array(at)
    at[inner] = scipy.sparse.linalg.spsolve(system, right)
    bent = basis.interpolate(at).hess
    mx = -(dx * bent[0, 0] + d1 * bent[1, 1])
    my = -(dy * bent[1, 1] + d1 * bent[0, 0])
    return at[basis.nodal_dofs[0]].max(), mx.max(), my.max()


def isotropic(sides, thickness, modulus, poisson, pressure, mesh):
    """Sag in the middle of a plate on four edges under an even pressure, mm, by PyNite's thin-plate rectangles."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("sheet", modulus, modulus / (2 * (1 + poisson)), poisson, 0.0)
    a, b = sides
    model.add_rectangle_mesh("mesh", mesh, a, b, thickness, "sheet", element_type="Rect")
    model.meshes["mesh"].generate()
    for element in list(model.plates):
        model.add_plate_surface_pressure(element, pressure)
    for node in model.nodes.values():
        edge = min(node.X, a - node.X, node.Y, b - node.Y) < 1e-6
        model.def_support(node.name, True, True, edge, False, False, True)
    model.analyze(check_statics=False)
    return max(abs(next(iter(node.DZ.values()))) for node in model.nodes.values())
