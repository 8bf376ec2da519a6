#include "round_fit.hpp"

#include "refusal.hpp"
#include "surfaces.hpp"
#include "words.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
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
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>
#include <limits>
#include <numbers>
#include <optional>

namespace {

constexpr double closeMm = 1e-6;

/// A straight look across a face, square to one of its edges.
struct Look {
    gp_Pnt from;
    gp_Vec across;
    gp_Vec out; ///< square to the face, away from the material
};

/// How far along the look a curve is met, when that is farther than nothing.
std::vector<double> meetings(const Look& look, const BRepAdaptor_Curve& curve) {
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
        const gp_Vec square = gp_Vec(curve.Line().Direction()).Crossed(look.out);
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
    Side(const Edge& edge, const TopoDS_Face& face) : face_(face), surface_(face, false), inFace_(edge.edge) {
        for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next())
            if (it.Current().IsSame(edge.edge)) inFace_ = TopoDS::Edge(it.Current());
        curve_.Initialize(inFace_);
    }

    /// Whether straight looks square to the edge stay on the face: flat, or along a cylinder from a circle around it.
    bool canLook() const {
        if (surface_.GetType() == GeomAbs_Plane) return true;
        return surface_.GetType() == GeomAbs_Cylinder && curve_.GetType() == GeomAbs_Circle &&
               curve_.Circle().Axis().Direction().IsParallel(surface_.Cylinder().Axis().Direction(), 1e-9);
    }

    static constexpr int count = 48; ///< looks along the edge

    /// A look from a place along the edge, which runs from 0 to count + 1.
    std::optional<Look> lookFrom(double place) const {
        const double from = curve_.FirstParameter(), to = curve_.LastParameter();
        const double t = from + (to - from) * place / (count + 1);
        gp_Pnt p;
        gp_Vec along;
        curve_.D1(t, p, along);
        if (along.Magnitude() < 1e-12) return std::nullopt;
        if (inFace_.Orientation() == TopAbs_REVERSED) along.Reverse();
        const gp_Vec out = outwardAt(p);
        return Look{p, out.Crossed(along).Normalized(), out}; // the face lies on the left of its edge
    }

    bool isClosed() const { return BRep_Tool::IsClosed(inFace_); }
    GeomAbs_SurfaceType type() const { return surface_.GetType(); }

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
    const TopoDS_Face& face_;
    BRepAdaptor_Surface surface_;
    TopoDS_Edge inFace_;
    BRepAdaptor_Curve curve_;
};

bool haveCommonEnd(const TopoDS_Edge& a, const TopoDS_Edge& b) {
    TopoDS_Vertex common;
    return TopExp::CommonVertex(a, b, common);
}

/// Another edge of the face.
struct Opposite {
    const Edge* edge;
    BRepAdaptor_Curve curve;
    bool isTaken;  ///< by the same round
    double needed; ///< of the way there, by what is taken
    /// Of an edge behind which the face goes on smoothly: the radius of the face there, when it is round in the
    /// direction in which the new round will be (an earlier one, say).
    std::optional<double> goesOnMm;

    bool isSmooth() const { return edge->meeting == Meeting::smooth; }
};

/// Radius of a face as an earlier round has it.
std::optional<double> roundRadius(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_Cylinder:
        return surface.Cylinder().Radius();
    case GeomAbs_Torus:
        return surface.Torus().MinorRadius();
    case GeomAbs_Sphere:
        return surface.Sphere().Radius();
    default:
        return std::nullopt;
    }
}

/// What limits a look: how wide the face is there, and how much of it is needed.
struct Room {
    double wide, needed;
    const Opposite* at;

    double left() const { return wide - needed; }
};

/// One face beside an edge that is to be rounded, and what lies across it.
class Width {
public:
    Width(const Edge& edge, const TopoDS_Face& face, const std::vector<Edge>& all, const std::vector<Edge>& taken,
          const Transition& round)
        : side_(edge, face) {
        if (!side_.canLook()) return;
        for (const Edge& other : all) {
            if (!other.first.IsSame(face) && !other.second.IsSame(face)) continue;
            if (!other.edge.IsSame(edge.edge) && haveCommonEnd(edge.edge, other.edge)) continue;
            const bool isTaken =
                std::any_of(taken.begin(), taken.end(), [&](const Edge& e) { return e.edge.IsSame(other.edge); });
            Opposite opposite{&other, BRepAdaptor_Curve(other.edge), isTaken,
                              setbackOn(face, edge, round) + (isTaken ? setbackOn(face, other, round) : 0),
                              std::nullopt};
            if (opposite.isSmooth()) {
                const TopoDS_Face& beyond = other.first.IsSame(face) ? other.second : other.first;
                const BRepAdaptor_Surface surface(beyond, false);
                if (surface.GetType() == side_.type()) continue; // one surface in two pieces
                const auto radius = roundRadius(surface);
                if (radius && bulges(beyond, surface) == (edge.meeting == Meeting::convex)) opposite.goesOnMm = radius;
            }
            opposites_.push_back(std::move(opposite));
        }
    }

    /// The narrowest place, when no place along the edge has room for the round. A face that goes on smoothly counts as
    /// going on.
    std::optional<Room> noRoomAnywhere() const {
        if (!side_.canLook()) return std::nullopt;
        std::vector<Room> rooms;
        for (int i = 1; i <= Side::count; ++i) {
            const auto look = side_.lookFrom(i);
            if (!look) continue;
            const auto room = roomAlong(*look, false);
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
        return *narrow;
    }

    /// The narrowest places that are not at an end of the edge.
    std::vector<Room> narrows() const {
        if (!side_.canLook()) return {};
        const auto leftAt = [&](double place) {
            const auto room = roomFrom(place);
            return room ? room->left() : std::numeric_limits<double>::infinity();
        };
        std::vector<double> left(Side::count + 2, std::numeric_limits<double>::infinity());
        for (int i = 1; i <= Side::count; ++i)
            left[i] = leftAt(i);
        // A closed edge begins in its middle, as it were.
        if (side_.isClosed()) left.front() = left.back() = leftAt(0);
        std::vector<Room> found;
        for (int i = side_.isClosed() ? 0 : 1; i <= Side::count; ++i) {
            const double before = i > 0 ? left[i - 1] : left[Side::count], after = left[i + 1];
            if (!std::isfinite(left[i]) || left[i] > before || left[i] > after) continue;
            if (!side_.isClosed() && (i == 1 || i == Side::count) && std::abs(before - left[i]) > closeMm &&
                std::abs(after - left[i]) > closeMm)
                continue; // narrower yet at the end
            // As deep as it can be between looks if it bends evenly; nothing to find where that is not narrow.
            const double bend = std::max(before, after) - left[i];
            if (left[i] - bend > closeMm) continue;
            const auto here = *roomFrom(i);
            const auto room = bend > closeMm ? roomFrom(lowest(leftAt, i - 1, i + 1)) : here;
            found.push_back(room && room->left() < left[i] ? *room : here);
        }
        return found;
    }

private:
    static double lowest(const auto& f, double a, double b) {
        constexpr double ratio = 0.6180339887498949;
        for (int i = 0; i < 40; ++i) {
            const double c = b - ratio * (b - a), d = a + ratio * (b - a);
            if (f(c) < f(d))
                b = d;
            else
                a = c;
        }
        return (a + b) / 2;
    }

    std::optional<Room> roomFrom(double place) const {
        constexpr double round = Side::count + 1;
        if (side_.isClosed()) place = place < 0 ? place + round : place;
        const auto look = side_.lookFrom(place);
        return look ? roomAlong(*look, true) : std::nullopt;
    }

    /// The nearest opposite edge along a look; nothing where none is met.
    std::optional<Room> roomAlong(const Look& look, bool alsoSmooth) const {
        std::optional<Room> nearest;
        for (const Opposite& opposite : opposites_) {
            if (opposite.isSmooth() && !alsoSmooth) continue;
            for (const double wide : meetings(look, opposite.curve))
                if (!nearest || wide < nearest->wide) nearest = Room{wide, opposite.needed, &opposite};
        }
        return nearest;
    }

    Side side_;
    std::vector<Opposite> opposites_;
};

/// Why a round cannot be at a narrow place; empty where it can, or where it is not ours to say.
std::string whyNot(const Room& room, const Edge& edge, const Transition& round) {
    constexpr double touchMm = 5e-7; // the library parts what lies farther apart than 1e-7
    if (std::abs(room.left()) <= touchMm) return "would end just on";
    if (room.left() > 0) return {};
    // A flat chamfer has nowhere to go on beyond an edge of the face.
    if (round.kind == Transition::Kind::chamfer) return room.at->isSmooth() ? "" : "would run over";
    // A ball in a corner of 90° that reaches beyond the face must touch the round there: it lies wholly within, or it
    // does not fit. Its middle is R − r from the middle of that round, and that far at most along the face.
    const bool isSquare =
        std::abs(edge.insideAngle - (edge.meeting == Meeting::convex ? 0.5 : 1.5) * std::numbers::pi) < 1e-6;
    if (isSquare && room.at->goesOnMm && !room.at->isTaken && -room.left() > *room.at->goesOnMm - round.size + closeMm)
        return "would run into";
    return {};
}

/// The largest size that leaves something at a narrow place: what is needed grows with the size.
std::string remedy(const Room& room, const Transition& round) {
    const double fits = round.size * room.wide / room.needed;
    return std::string("a ") + (round.kind == Transition::Kind::chamfer ? "setback" : "radius") + " below " +
           inWords(fits) + " fits there";
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
    const std::string what =
        std::string(round.word()) + " " + inWords(round.size) + " of " + feature + " does not fit: ";
    for (const Edge& edge : edges)
        for (const TopoDS_Face& face : {edge.first, edge.second}) {
            const Width width(edge, face, all, edges, round);
            if (const auto narrowest = width.noRoomAnywhere())
                throw Refusal("refused",
                              what + inWords(edge, solid.names) + ", the face " + nameOf(face, solid.names) +
                                  " is only " + inWords(narrowest->wide) + " wide",
                              feature, remedy(*narrowest, round));
            for (const Room& room : width.narrows()) {
                const std::string why = whyNot(room, edge, round);
                if (why.empty()) continue;
                Refusal refusal("refused",
                                what + inWords(edge, solid.names) + ", it " + why + " the " +
                                    inWords(*room.at->edge, solid.names) + ", " + inWords(room.wide) +
                                    " away on the face " + nameOf(face, solid.names),
                                feature, remedy(room, round));
                refusal.mayDependOnOrder = true;
                throw refusal;
            }
        }
}
