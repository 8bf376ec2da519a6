#include "extent.hpp"

#include "named_shape.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepClass_FaceClassifier.hxx>
#include <BRep_Tool.hxx>
#include <ElSLib.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <functional>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Lin.hxx>
#include <limits>
#include <numbers>
#include <vector>

namespace {

/// Collects the lowest and highest place along a direction.
class Reach {
public:
    explicit Reach(const gp_Dir& direction) : direction_(direction) {}

    double along(const gp_Pnt& p) const { return direction_.XYZ().Dot(p.XYZ()); }
    void see(const gp_Pnt& p) {
        const double here = along(p);
        low = std::min(low, here);
        high = std::max(high, here);
    }

    bool has(const gp_Pnt& p) const { return along(p) >= low && along(p) <= high; }

    double low = std::numeric_limits<double>::infinity(), high = -low;

private:
    gp_Dir direction_;
};

/// The place in [a, b] where f is smallest, by golden section.
double lowest(const std::function<double(double)>& f, double a, double b) {
    constexpr double ratio = 0.6180339887498949;
    double c = b - ratio * (b - a), d = a + ratio * (b - a), fc = f(c), fd = f(d);
    for (int i = 0; i < 80 && b - a > 1e-10; ++i) {
        if (fc < fd) {
            b = d, d = c, fd = fc;
            c = b - ratio * (b - a), fc = f(c);
        } else {
            a = c, c = d, fc = fd;
            d = a + ratio * (b - a), fd = f(d);
        }
    }
    return (a + b) / 2;
}

/// A point of a conic whose axes are x and y, where it turns back along the direction.
void seeTurns(const BRepAdaptor_Curve& curve, double alongX, double alongY, Reach& reach) {
    const double first = curve.FirstParameter(), last = curve.LastParameter();
    const double turn = std::atan2(alongY, alongX);
    for (double t : {turn, turn + std::numbers::pi}) {
        t += 2 * std::numbers::pi * std::ceil((first - t) / (2 * std::numbers::pi));
        if (t <= last) reach.see(curve.Value(t));
    }
}

/// A spline never leaves the hull of its poles: where those reach no farther, neither does it.
bool staysWithin(const Geom_BSplineCurve& curve, const Reach& reach) {
    for (int i = 1; i <= curve.NbPoles(); ++i)
        if (!reach.has(curve.Pole(i))) return false;
    return true;
}

bool staysWithin(const Geom_BSplineSurface& surface, const Reach& reach) {
    for (int i = 1; i <= surface.NbUPoles(); ++i)
        for (int k = 1; k <= surface.NbVPoles(); ++k)
            if (!reach.has(surface.Pole(i, k))) return false;
    return true;
}

bool isSpline(const TopoDS_Edge& edge) {
    return BRepAdaptor_Curve(edge).GetType() > GeomAbs_Ellipse;
}

void seeEdge(const TopoDS_Edge& edge, const gp_Dir& direction, Reach& reach) {
    const BRepAdaptor_Curve curve(edge);
    const double first = curve.FirstParameter(), last = curve.LastParameter();
    reach.see(curve.Value(first));
    reach.see(curve.Value(last));
    switch (curve.GetType()) {
    case GeomAbs_Line:
        return;
    case GeomAbs_Circle: {
        const gp_Ax2 axes = curve.Circle().Position();
        return seeTurns(curve, direction.Dot(axes.XDirection()), direction.Dot(axes.YDirection()), reach);
    }
    case GeomAbs_Ellipse: {
        const gp_Elips ellipse = curve.Ellipse();
        return seeTurns(curve, ellipse.MajorRadius() * direction.Dot(ellipse.XAxis().Direction()),
                        ellipse.MinorRadius() * direction.Dot(ellipse.YAxis().Direction()), reach);
    }
    default:
        break;
    }
    if (curve.GetType() == GeomAbs_BSplineCurve && staysWithin(*curve.BSpline(), reach)) return;
    constexpr int pieces = 64;
    std::vector<double> along(pieces + 1);
    const auto at = [&](int i) { return first + (last - first) * i / pieces; };
    for (int i = 0; i <= pieces; ++i)
        along[i] = reach.along(curve.Value(at(i)));
    for (int i = 0; i <= pieces; ++i) {
        const double before = along[std::max(i - 1, 0)], after = along[std::min(i + 1, pieces)];
        const double a = at(std::max(i - 1, 0)), b = at(std::min(i + 1, pieces));
        if (along[i] <= before && along[i] <= after)
            reach.see(curve.Value(lowest([&](double t) { return reach.along(curve.Value(t)); }, a, b)));
        if (along[i] >= before && along[i] >= after)
            reach.see(curve.Value(lowest([&](double t) { return -reach.along(curve.Value(t)); }, a, b)));
    }
}

bool lies(const TopoDS_Face& face, double u, double v, const BRepAdaptor_Surface& surface) {
    const auto within = [](double& t, double first, double period) {
        t += period * std::ceil((first - t) / period - 1e-12);
    };
    if (surface.IsUPeriodic()) within(u, surface.FirstUParameter(), surface.UPeriod());
    if (surface.IsVPeriodic()) within(v, surface.FirstVParameter(), surface.VPeriod());
    const TopAbs_State state = BRepClass_FaceClassifier(face, gp_Pnt2d(u, v), 1e-9).State();
    return state == TopAbs_IN || state == TopAbs_ON;
}

/// Climbs on the surface from (u, v), first coarsely then finely, never leaving the rectangle.
void seeSummit(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, double u, double v, double du, double dv,
               double sign, Reach& reach) {
    const auto height = [&](double a, double b) { return sign * reach.along(surface.Value(a, b)); };
    double best = height(u, v);
    while (du > 1e-9 * (std::abs(u) + 1) || dv > 1e-9 * (std::abs(v) + 1)) {
        bool climbed = false;
        for (const auto& [a, b] :
             {std::pair{du, 0.0}, {-du, 0.0}, {0.0, dv}, {0.0, -dv}, {du, dv}, {-du, -dv}, {du, -dv}, {-du, dv}}) {
            const double nextU = std::clamp(u + a, surface.FirstUParameter(), surface.LastUParameter());
            const double nextV = std::clamp(v + b, surface.FirstVParameter(), surface.LastVParameter());
            const double next = height(nextU, nextV);
            if (next <= best) continue;
            best = next, u = nextU, v = nextV, climbed = true;
        }
        if (!climbed) du /= 2, dv /= 2;
    }
    if (lies(face, u, v, surface)) reach.see(surface.Value(u, v));
}

/// Places inside a face where it can reach farther than its boundary does.
void seeInside(const TopoDS_Face& face, const gp_Dir& direction, Reach& reach) {
    const BRepAdaptor_Surface surface(face);
    switch (surface.GetType()) {
    case GeomAbs_Plane:
    case GeomAbs_Cylinder:
    case GeomAbs_Cone:
        return; // straight lines run through every point and end on the boundary
    case GeomAbs_Sphere: {
        const gp_Sphere sphere = surface.Sphere();
        for (const double sign : {1.0, -1.0}) {
            const gp_Pnt p = sphere.Location().Translated(gp_Vec(direction) * (sign * sphere.Radius()));
            double u, v;
            ElSLib::Parameters(sphere, p, u, v);
            if (lies(face, u, v, surface)) reach.see(p);
        }
        return;
    }
    case GeomAbs_Torus: {
        const gp_Torus torus = surface.Torus();
        const gp_Vec axis(torus.Position().Direction()), d(direction);
        gp_Vec outward = d - axis * axis.Dot(d);
        outward = outward.Magnitude() < 1e-12 ? gp_Vec(torus.Position().XDirection()) : outward.Normalized();
        for (const double side : {1.0, -1.0})
            for (const double sign : {1.0, -1.0}) {
                const gp_Pnt p = torus.Location().Translated(outward * (side * torus.MajorRadius()) +
                                                             d * (sign * torus.MinorRadius()));
                double u, v;
                ElSLib::Parameters(torus, p, u, v);
                if (lies(face, u, v, surface)) reach.see(p);
            }
        return;
    }
    default:
        break;
    }
    if (surface.GetType() == GeomAbs_BSplineSurface && staysWithin(*surface.BSpline(), reach)) return;
    constexpr int pieces = 16;
    const double u0 = surface.FirstUParameter(), du = (surface.LastUParameter() - u0) / pieces;
    const double v0 = surface.FirstVParameter(), dv = (surface.LastVParameter() - v0) / pieces;
    for (const double sign : {1.0, -1.0}) {
        double bestU = u0, bestV = v0, best = -std::numeric_limits<double>::infinity();
        for (int i = 0; i <= pieces; ++i)
            for (int k = 0; k <= pieces; ++k) {
                const double here = sign * reach.along(surface.Value(u0 + i * du, v0 + k * dv));
                if (here > best) best = here, bestU = u0 + i * du, bestV = v0 + k * dv;
            }
        seeSummit(face, surface, bestU, bestV, du, dv, sign, reach);
    }
}

} // namespace

Extent extentAlong(const TopoDS_Shape& shape, const gp_Dir& direction) {
    Reach reach(direction);
    // What has a formula first: then there is less to search for.
    std::vector<TopoDS_Edge> splines;
    for (const TopoDS_Shape& shapeOfEdge : partsOf(shape, TopAbs_EDGE)) {
        const TopoDS_Edge edge = TopoDS::Edge(shapeOfEdge);
        if (BRep_Tool::Degenerated(edge)) continue;
        if (isSpline(edge))
            splines.push_back(edge);
        else
            seeEdge(edge, direction, reach);
    }
    for (const TopoDS_Edge& edge : splines)
        seeEdge(edge, direction, reach);
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        seeInside(TopoDS::Face(face.Current()), direction, reach);
    return {reach.low, reach.high};
}

Box around(const Box& a, const Box& b) {
    Box both = a;
    for (int i = 0; i < 3; ++i) {
        both.low[i] = std::min(a.low[i], b.low[i]);
        both.high[i] = std::max(a.high[i], b.high[i]);
    }
    return both;
}

Box boxOf(const TopoDS_Shape& shape) {
    const Extent x = extentAlong(shape, gp::DX()), y = extentAlong(shape, gp::DY()), z = extentAlong(shape, gp::DZ());
    return {{x.low, y.low, z.low}, {x.high, y.high, z.high}};
}
