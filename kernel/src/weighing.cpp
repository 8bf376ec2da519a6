#include "weighing.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <ElSLib.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Curve.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <math.hxx>
#include <math_Vector.hxx>
#include <numbers>
#include <vector>

namespace {

/// A rule of Gauss and Legendre on [-1, 1].
struct Rule {
    explicit Rule(int count) : at(1, count), weight(1, count) {
        math::GaussPoints(count, at);
        math::GaussWeights(count, weight);
    }
    int count() const { return at.Length(); }
    math_Vector at, weight;
};

const Rule& ruleOf(int count) {
    constexpr int most = 24;
    static const std::vector<Rule> rules = [] {
        std::vector<Rule> all;
        for (int i = 1; i <= most; ++i)
            all.emplace_back(i);
        return all;
    }();
    return rules[std::clamp(count, 1, most) - 1];
}

/// Enough points that three factors of a polynomial of this degree are integrated exactly, and some for denominators.
int pointsFor(int degree) {
    return 2 * degree + 4;
}

constexpr double widestTurn = std::numbers::pi / 4; ///< in one step around a circle
constexpr int pointsPerTurn = 8;                    ///< leaves 1e-15 of sines of up to three times the angle

/// One coordinate of a surface's parameters: where it is pieced together, and how finely to step between.
struct Steps {
    std::vector<double> breaks; ///< between the ends
    int points = 3;
    bool isAngle = false;

    int between(double from, double to) const {
        return isAngle ? std::max(1, int(std::ceil(std::abs(to - from) / widestTurn - 1e-9))) : 1;
    }
};

/// The boundary of a face in the parameters of its surface.
class Boundary {
public:
    Boundary(const TopoDS_Edge& edge, const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
        if (surface.GetType() == GeomAbs_Plane) {
            curve_.Initialize(edge);
            plane_ = surface.Plane();
            first = curve_.FirstParameter(), last = curve_.LastParameter();
            type_ = curve_.GetType();
            isThere = !BRep_Tool::Degenerated(edge);
        } else {
            flat_ = BRep_Tool::CurveOnSurface(edge, face, first, last);
            isThere = !flat_.IsNull();
            if (isThere) onSurface_.Load(flat_, first, last);
            type_ = isThere ? onSurface_.GetType() : GeomAbs_OtherCurve;
        }
    }

    gp_Pnt2d at(double t, gp_Vec2d& along) const {
        gp_Pnt2d uv;
        if (!flat_.IsNull()) {
            onSurface_.D1(t, uv, along);
            return uv;
        }
        gp_Pnt p;
        gp_Vec d;
        curve_.D1(t, p, d);
        double u, v;
        ElSLib::Parameters(plane_, p, u, v);
        along = gp_Vec2d(d.Dot(gp_Vec(plane_.XAxis().Direction())), d.Dot(gp_Vec(plane_.YAxis().Direction())));
        return gp_Pnt2d(u, v);
    }
    gp_Pnt2d at(double t) const {
        gp_Vec2d along;
        return at(t, along);
    }

    bool isLine() const { return type_ == GeomAbs_Line; }
    bool isConic() const { return type_ == GeomAbs_Circle || type_ == GeomAbs_Ellipse; }

    /// The places where it is pieced together.
    std::vector<double> breaks() const {
        if (isLine() || isConic()) return {};
        const int pieces = flat_.IsNull() ? curve_.NbIntervals(GeomAbs_CN) : onSurface_.NbIntervals(GeomAbs_CN);
        TColStd_Array1OfReal ends(1, pieces + 1);
        if (flat_.IsNull())
            curve_.Intervals(ends, GeomAbs_CN);
        else
            onSurface_.Intervals(ends, GeomAbs_CN);
        return {ends.begin() + 1, ends.end() - 1};
    }

    double first = 0, last = 0;
    bool isThere = false;

private:
    BRepAdaptor_Curve curve_; ///< of a flat face, whose edges need no curve in its parameters
    gp_Pln plane_;
    Handle(Geom2d_Curve) flat_;
    Geom2dAdaptor_Curve onSurface_;
    GeomAbs_CurveType type_;
};

class FaceWeigher {
public:
    explicit FaceWeigher(const TopoDS_Face& face)
        : face_(TopoDS::Face(face.Oriented(TopAbs_FORWARD))), surface_(face_) {
        const GeomAbs_SurfaceType type = surface_.GetType();
        u_.isAngle = type != GeomAbs_Plane && type <= GeomAbs_Torus;
        v_.isAngle = type == GeomAbs_Sphere || type == GeomAbs_Torus;
        if (u_.isAngle) u_.points = pointsPerTurn;
        if (v_.isAngle) v_.points = pointsPerTurn;
        if (type > GeomAbs_Torus) {
            const auto inner = [](int count, const auto& intervals) {
                TColStd_Array1OfReal ends(1, count + 1);
                intervals(ends);
                return std::vector<double>(ends.begin() + 1, ends.end() - 1);
            };
            u_.breaks =
                inner(surface_.NbUIntervals(GeomAbs_CN), [&](auto& ends) { surface_.UIntervals(ends, GeomAbs_CN); });
            v_.breaks =
                inner(surface_.NbVIntervals(GeomAbs_CN), [&](auto& ends) { surface_.VIntervals(ends, GeomAbs_CN); });
            const bool isSpline = type == GeomAbs_BSplineSurface || type == GeomAbs_BezierSurface;
            constexpr int pointsElsewhere = 16;
            u_.points = isSpline ? pointsFor(surface_.UDegree()) : pointsElsewhere;
            v_.points = isSpline ? pointsFor(surface_.VDegree()) : pointsElsewhere;
        }
        // Inward from here: what lies along this line counts nothing, so that one side of a rectangle is for free.
        from_ = type == GeomAbs_Plane ? 0 : surface_.FirstUParameter();
    }

    Weight weigh() {
        for (TopExp_Explorer it(face_, TopAbs_EDGE); it.More(); it.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(it.Current());
            if (edge.Orientation() == TopAbs_FORWARD) alongEdge(edge, 1);
            if (edge.Orientation() == TopAbs_REVERSED) alongEdge(edge, -1);
        }
        return sum_;
    }

private:
    void alongEdge(const TopoDS_Edge& edge, double sign) {
        const Boundary boundary(edge, face_, surface_);
        if (!boundary.isThere) return;
        if (boundary.isLine() && countsNothing(boundary)) return;
        std::vector<double> ends = boundary.breaks();
        ends.push_back(boundary.first);
        ends.push_back(boundary.last);
        for (const double v : v_.breaks)
            addCrossing(boundary, v, false, ends);
        for (const double u : u_.breaks)
            addCrossing(boundary, u, true, ends);
        std::sort(ends.begin(), ends.end());
        for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
            if (ends[i + 1] - ends[i] < 1e-12 * (boundary.last - boundary.first)) continue;
            const gp_Pnt2d a = boundary.at(ends[i]), b = boundary.at(ends[i + 1]);
            int pieces = std::max(u_.between(a.X(), b.X()), v_.between(a.Y(), b.Y()));
            if (boundary.isConic()) pieces = std::max(pieces, int(std::ceil((ends[i + 1] - ends[i]) / widestTurn)));
            const Rule& rule = ruleOf(pointsAlong(boundary));
            const double wide = (ends[i + 1] - ends[i]) / pieces;
            for (int k = 0; k < pieces; ++k)
                for (int g = 1; g <= rule.count(); ++g) {
                    const double t = ends[i] + wide * (k + 0.5 + 0.5 * rule.at(g));
                    gp_Vec2d along;
                    const gp_Pnt2d uv = boundary.at(t, along);
                    inward(uv, sign * along.Y() * 0.5 * wide * rule.weight(g));
                }
        }
    }

    /// Along a line of constant v, and along the line from where inward is counted.
    bool countsNothing(const Boundary& boundary) const {
        const gp_Pnt2d a = boundary.at(boundary.first), b = boundary.at(boundary.last);
        return std::abs(a.Y() - b.Y()) < 1e-15 || (std::abs(a.X() - from_) < 1e-15 && std::abs(b.X() - from_) < 1e-15);
    }

    int pointsAlong(const Boundary& boundary) const {
        constexpr int alongSplines = 12;
        if (!boundary.isLine()) return std::max({alongSplines, u_.points, v_.points});
        const gp_Pnt2d a = boundary.at(boundary.first), b = boundary.at(boundary.last);
        // Along a line of constant u only v counts.
        return std::abs(a.X() - b.X()) < 1e-15 ? v_.points : std::max({u_.points, v_.points, 4});
    }

    /// Adds the places where the boundary crosses a line of constant u or v.
    static void addCrossing(const Boundary& boundary, double value, bool isU, std::vector<double>& ends) {
        const auto off = [&](double t) {
            const gp_Pnt2d uv = boundary.at(t);
            return (isU ? uv.X() : uv.Y()) - value;
        };
        const int looks = boundary.isLine() ? 1 : 8;
        const double step = (boundary.last - boundary.first) / looks;
        for (int i = 0; i < looks; ++i) {
            double a = boundary.first + i * step, b = a + step, fa = off(a), fb = off(b);
            if (fa * fb >= 0) continue;
            if (boundary.isLine()) {
                ends.push_back(a + (b - a) * fa / (fa - fb));
                continue;
            }
            for (int k = 0; k < 50; ++k) {
                const double middle = (a + b) / 2, f = off(middle);
                (f * fa > 0 ? a : b) = middle;
            }
            ends.push_back((a + b) / 2);
        }
    }

    /// From a point of the boundary along u to where inward is counted from.
    void inward(const gp_Pnt2d& uv, double factor) {
        if (factor == 0) return;
        const double low = std::min(from_, uv.X()), high = std::max(from_, uv.X());
        if (uv.X() < from_) factor = -factor;
        double a = low;
        auto next = std::upper_bound(u_.breaks.begin(), u_.breaks.end(), low);
        while (a < high) {
            const double b = next != u_.breaks.end() ? std::min(*next++, high) : high;
            const int pieces = u_.between(a, b);
            const double wide = (b - a) / pieces;
            const Rule& rule = ruleOf(u_.points);
            for (int k = 0; k < pieces; ++k)
                for (int g = 1; g <= rule.count(); ++g)
                    add(a + wide * (k + 0.5 + 0.5 * rule.at(g)), uv.Y(), factor * 0.5 * wide * rule.weight(g));
            a = b;
        }
    }

    void add(double u, double v, double factor) {
        gp_Pnt at;
        gp_Vec du, dv;
        surface_.D1(u, v, at, du, dv);
        const gp_XYZ p = at.XYZ(), normal = du.XYZ().Crossed(dv.XYZ());
        const double cone = factor * p.Dot(normal), x = p.X(), y = p.Y(), z = p.Z();
        sum_.areaMm2 += factor * normal.Modulus();
        sum_.volumeMm3 += cone / 3;
        sum_.first += p * (cone / 4);
        const double products[6] = {x * x, y * y, z * z, x * y, y * z, z * x};
        for (int i = 0; i < 6; ++i)
            sum_.second[i] += products[i] * (cone / 5);
    }

    TopoDS_Face face_;
    BRepAdaptor_Surface surface_;
    Steps u_, v_;
    double from_;
    Weight sum_;
};

} // namespace

Weight& Weight::operator+=(const Weight& other) {
    areaMm2 += other.areaMm2;
    volumeMm3 += other.volumeMm3;
    first += other.first;
    for (int i = 0; i < 6; ++i)
        second[i] += other.second[i];
    return *this;
}

gp_Pnt Weight::centroid() const {
    return first / volumeMm3;
}

gp_Mat Weight::inertia() const {
    const gp_XYZ c = first / volumeMm3;
    const double xx = second[0] - volumeMm3 * c.X() * c.X(), yy = second[1] - volumeMm3 * c.Y() * c.Y(),
                 zz = second[2] - volumeMm3 * c.Z() * c.Z(), xy = second[3] - volumeMm3 * c.X() * c.Y(),
                 yz = second[4] - volumeMm3 * c.Y() * c.Z(), zx = second[5] - volumeMm3 * c.Z() * c.X();
    return {yy + zz, -xy, -zx, -xy, xx + zz, -yz, -zx, -yz, xx + yy};
}

Weight weightOf(const TopoDS_Face& face) {
    Weight weight = FaceWeigher(face).weigh();
    if (face.Orientation() != TopAbs_REVERSED) return weight;
    weight.volumeMm3 = -weight.volumeMm3;
    weight.first.Reverse();
    for (double& product : weight.second)
        product = -product;
    return weight;
}
