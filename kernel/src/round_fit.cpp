#include "round_fit.hpp"

#include "refusal.hpp"
#include "words.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Lin.hxx>
#include <gp_Pln.hxx>
#include <numbers>
#include <optional>

namespace {

constexpr double closeMm = 1e-6;

/// A straight look across a face, square to one of its edges.
struct Look {
    gp_Pnt from;
    gp_Vec across;
};

/// How far along the look a curve is met, when that is farther than nothing.
std::vector<double> meetings(const Look& look, const BRepAdaptor_Curve& curve, const gp_Vec& normal) {
    std::vector<double> found;
    const auto see = [&](double distance) {
        if (distance <= closeMm) return;
        const gp_Pnt there = look.from.Translated(look.across * distance);
        double t;
        if (curve.GetType() == GeomAbs_Line) {
            t = gp_Vec(curve.Line().Location(), there).Dot(gp_Vec(curve.Line().Direction()));
        } else {
            const gp_Ax2 axes = curve.Circle().Position();
            const gp_Vec arm(axes.Location(), there);
            t = std::atan2(arm.Dot(gp_Vec(axes.YDirection())), arm.Dot(gp_Vec(axes.XDirection())));
            t += 2 * std::numbers::pi * std::ceil((curve.FirstParameter() - t) / (2 * std::numbers::pi) - 1e-9);
        }
        const bool isOn = t >= curve.FirstParameter() - 1e-9 && t <= curve.LastParameter() + 1e-9;
        if (isOn && curve.Value(t).Distance(there) < 1e-5) found.push_back(distance);
    };
    if (curve.GetType() == GeomAbs_Line) {
        const gp_Vec square = gp_Vec(curve.Line().Direction()).Crossed(normal);
        const double slope = look.across.Dot(square);
        if (std::abs(slope) > 1e-9) see(gp_Vec(look.from, curve.Line().Location()).Dot(square) / slope);
    } else if (curve.GetType() == GeomAbs_Circle) {
        const gp_Vec axis(curve.Circle().Axis().Direction());
        const gp_Vec toCenter(look.from, curve.Circle().Location());
        if (std::abs(axis.Dot(look.across)) > 1 - 1e-9) {
            see(toCenter.Dot(look.across)); // along a cylinder, square through the circle
        } else {
            const double middle = toCenter.Dot(look.across), r = curve.Circle().Radius();
            const double inside = r * r - (toCenter.SquareMagnitude() - middle * middle);
            if (inside < 0) return found;
            see(middle - std::sqrt(inside));
            see(middle + std::sqrt(inside));
        }
    }
    return found;
}

/// One edge beside one of its faces.
class Side {
public:
    Side(const Edge& edge, const TopoDS_Face& face)
        : edge_(edge), face_(face), surface_(face, false), inFace_(edge.edge) {
        for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next())
            if (it.Current().IsSame(edge.edge)) inFace_ = TopoDS::Edge(it.Current());
    }

    /// Whether straight looks square to the edge stay on the face: flat, or along a cylinder from a circle around it.
    bool canLook() const {
        if (surface_.GetType() == GeomAbs_Plane) return true;
        const BRepAdaptor_Curve curve(inFace_);
        return surface_.GetType() == GeomAbs_Cylinder && curve.GetType() == GeomAbs_Circle &&
               curve.Circle().Axis().Direction().IsParallel(surface_.Cylinder().Axis().Direction(), 1e-9);
    }

    std::vector<Look> looks() const {
        constexpr int count = 48;
        const BRepAdaptor_Curve curve(inFace_);
        std::vector<Look> all;
        for (int i = 1; i <= count; ++i) {
            const double t =
                curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * i / (count + 1);
            gp_Pnt p;
            gp_Vec along;
            curve.D1(t, p, along);
            if (along.Magnitude() < 1e-12) continue;
            if (inFace_.Orientation() == TopAbs_REVERSED) along.Reverse();
            all.push_back({p, outwardAt(p).Crossed(along).Normalized()}); // the face lies on the left of its edge
        }
        return all;
    }

    gp_Vec outwardAt(const gp_Pnt& p) const {
        gp_Vec normal;
        gp_Ax3 position;
        if (surface_.GetType() == GeomAbs_Plane) {
            position = surface_.Plane().Position();
            normal = gp_Vec(position.Direction());
        } else {
            position = surface_.Cylinder().Position();
            const gp_Vec arm(position.Location(), p), axis(position.Direction());
            normal = (arm - axis * arm.Dot(axis)).Normalized();
        }
        return position.Direct() == (face_.Orientation() == TopAbs_FORWARD) ? normal : normal.Reversed();
    }

private:
    const Edge& edge_;
    const TopoDS_Face& face_;
    BRepAdaptor_Surface surface_;
    TopoDS_Edge inFace_;
};

bool haveCommonEnd(const TopoDS_Edge& a, const TopoDS_Edge& b) {
    TopoDS_Vertex common;
    return TopExp::CommonVertex(a, b, common);
}

/// What limits a look: how wide the face is there, and how much of it is needed.
struct Room {
    double wide, needed;
};

/// The nearest opposite edge along a look; nothing where none is met, or where the face goes on smoothly behind it.
std::optional<Room> roomAlong(const Look& look, const gp_Vec& normal, const TopoDS_Face& face, const Edge& edge,
                              const std::vector<Edge>& around, const std::vector<Edge>& taken,
                              const Transition& round) {
    std::optional<Room> nearest;
    for (const Edge& other : around) {
        const bool isItself = other.edge.IsSame(edge.edge);
        if (other.meeting == Meeting::smooth || (!isItself && haveCommonEnd(edge.edge, other.edge))) continue;
        const bool isTaken =
            std::any_of(taken.begin(), taken.end(), [&](const Edge& e) { return e.edge.IsSame(other.edge); });
        const double needed = setbackOn(face, edge, round) + (isTaken ? setbackOn(face, other, round) : 0);
        for (const double wide : meetings(look, BRepAdaptor_Curve(other.edge), normal))
            if (!nearest || wide < nearest->wide) nearest = Room{wide, needed};
    }
    return nearest;
}

/// How wide the face is at its narrowest, when no place along the edge has room for the round.
std::optional<double> noRoomAnywhere(const Side& side, const TopoDS_Face& face, const Edge& edge,
                                     const std::vector<Edge>& around, const std::vector<Edge>& taken,
                                     const Transition& round) {
    std::vector<Room> rooms;
    for (const Look& look : side.looks()) {
        const auto room = roomAlong(look, side.outwardAt(look.from), face, edge, around, taken, round);
        if (!room) return std::nullopt;
        rooms.push_back(*room);
    }
    if (rooms.empty()) return std::nullopt;
    const auto byWidth = [](const Room& a, const Room& b) { return a.wide < b.wide; };
    const auto [narrow, wide] = std::minmax_element(rooms.begin(), rooms.end(), byWidth);
    // Where the width varies, the widest place may lie between two looks.
    const double between = wide->wide - narrow->wide > closeMm ? 1.02 : 1.0;
    for (const Room& room : rooms)
        if (room.needed < room.wide * between - closeMm) return std::nullopt;
    return narrow->wide;
}

} // namespace

double setbackOn(const TopoDS_Face& face, const Edge& edge, const Transition& round) {
    if (round.kind == Transition::Kind::chamfer)
        return face.IsSame(edge.first) ? round.size : round.size * std::tan(round.angleDeg * std::numbers::pi / 180);
    const double between =
        edge.meeting == Meeting::concave ? 2 * std::numbers::pi - edge.insideAngle : edge.insideAngle;
    return round.size / std::tan(between / 2);
}

void refuseWhatDoesNotFit(const NamedShape& solid, const std::vector<Edge>& edges, const Transition& round,
                          const std::string& feature) {
    const std::vector<Edge> all = edgesOf(solid);
    for (const Edge& edge : edges)
        for (const TopoDS_Face& face : {edge.first, edge.second}) {
            const Side side(edge, face);
            if (!side.canLook()) continue;
            std::vector<Edge> around;
            for (const Edge& other : all)
                if (other.first.IsSame(face) || other.second.IsSame(face)) around.push_back(other);
            const auto narrowest = noRoomAnywhere(side, face, edge, around, edges, round);
            if (!narrowest) continue;
            throw Refusal("refused",
                          std::string(round.word()) + " " + inWords(round.size) + " of " + feature +
                              " does not fit: " + inWords(edge, solid.names) + ", the face " +
                              nameOf(face, solid.names) + " is only " + inWords(*narrowest) + " wide",
                          feature);
        }
}
