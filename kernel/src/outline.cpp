#include "outline.hpp"

#include "refusal.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRep_Builder.hxx>
#include <Geom_Circle.hxx>
#include <Precision.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Pln.hxx>
#include <numbers>

namespace {

gp_Pnt inSpace(const gp_Ax3& frame, const gp_Pnt2d& p) {
    return frame.Location().Translated(gp_Vec(frame.XDirection()) * p.X() + gp_Vec(frame.YDirection()) * p.Y());
}

gp_Circ circleInSpace(const gp_Ax3& frame, const gp_Pnt2d& center, double radius, bool turnsLeft = true) {
    const gp_Dir axis = turnsLeft ? frame.Direction() : frame.Direction().Reversed();
    return gp_Circ(gp_Ax2(inSpace(frame, center), axis, frame.XDirection()), radius);
}

double sweptAngle(const Piece& arc) {
    const auto angle = [&](const gp_Pnt2d& p) { return std::atan2(p.Y() - arc.center.Y(), p.X() - arc.center.X()); };
    double turn = angle(arc.to) - angle(arc.from);
    if (!arc.turnsLeft) turn = -turn;
    if (turn <= 0) turn += 2 * std::numbers::pi;
    return arc.turnsLeft ? turn : -turn;
}

/// Area enclosed, above zero when the loop runs counter-clockwise.
double signedArea(const Loop& loop) {
    double twice = 0;
    for (const Piece& p : loop) {
        twice += p.from.X() * p.to.Y() - p.to.X() * p.from.Y();
        if (!p.isArc) continue;
        const double turn = sweptAngle(p), r = p.center.Distance(p.from);
        twice += r * r * (turn - std::sin(turn)); // the segment between chord and arc
    }
    return twice / 2;
}

Loop reversed(const Loop& loop) {
    Loop back(loop.rbegin(), loop.rend());
    for (Piece& piece : back) {
        std::swap(piece.from, piece.to);
        piece.turnsLeft = !piece.turnsLeft;
    }
    return back;
}

Loop withoutPoints(const Loop& loop) {
    Loop real;
    for (const Piece& piece : loop)
        if (piece.from.Distance(piece.to) > Precision::Confusion()) real.push_back(piece);
    return real;
}

TopoDS_Face checkedFace(const gp_Ax3& frame, const TopoDS_Wire& wire, const std::string& feature) {
    BRepBuilderAPI_MakeFace maker(gp_Pln(frame), wire, true);
    if (!maker.IsDone()) throw Refusal("refused", "the outline of " + feature + " does not close", feature);
    if (!BRepCheck_Analyzer(maker.Face()).IsValid())
        throw Refusal("refused", "the outline of " + feature + " crosses or touches itself", feature);
    return maker.Face();
}

NamedShape layCircle(const Circle& circle, const gp_Ax3& frame, const std::string& feature) {
    const TopoDS_Edge edge = BRepBuilderAPI_MakeEdge(circleInSpace(frame, circle.center, circle.radius));
    NamedShape outline{checkedFace(frame, BRepBuilderAPI_MakeWire(edge), feature), {}};
    outline.names.add(edge, circle.names);
    return outline;
}

enum class Way { join, takeAway, overlap };

NamedShape combineTwo(const NamedShape& first, const NamedShape& second, Way way, const std::string& feature) {
    BRepAlgoAPI_Fuse fuse;
    BRepAlgoAPI_Cut cut;
    BRepAlgoAPI_Common common;
    BRepAlgoAPI_BooleanOperation& operation = way == Way::join       ? static_cast<BRepAlgoAPI_BooleanOperation&>(fuse)
                                              : way == Way::takeAway ? static_cast<BRepAlgoAPI_BooleanOperation&>(cut)
                                                                     : common;
    TopTools_ListOfShape arguments, tools;
    arguments.Append(first.shape);
    tools.Append(second.shape);
    operation.SetArguments(arguments);
    operation.SetTools(tools);
    operation.SetRunParallel(false);
    operation.SetNonDestructive(true);
    operation.Build();
    if (operation.HasErrors())
        throw Refusal("failed", "the regions of the outline of " + feature + " do not combine", feature);

    ShapeUpgrade_UnifySameDomain merge(operation.Shape(), true, true, false);
    merge.Build();
    BRepTools_History history;
    history.Merge(operation.History());
    history.Merge(merge.History());

    NamedShape result{merge.Shape(), {}};
    const auto edges = partMapOf(result.shape, TopAbs_EDGE);
    if (edges.IsEmpty()) throw Refusal("refused", "nothing is left of the outline of " + feature, feature);
    carryNames(first, TopAbs_EDGE, history, edges, result.names);
    carryNames(second, TopAbs_EDGE, history, edges, result.names);
    return result;
}

NamedShape combineAll(const std::vector<Region>& regions, Way way, const gp_Ax3& frame, const std::string& feature) {
    NamedShape result = layOutline(regions.front(), frame, feature);
    for (std::size_t i = 1; i < regions.size(); ++i)
        result = combineTwo(result, layOutline(regions[i], frame, feature), way, feature);
    return result;
}

std::vector<Region> mirrored(const std::vector<Region>& regions) {
    std::vector<Region> all;
    for (const Region& region : regions)
        all.push_back(mirrored(region));
    return all;
}

} // namespace

NamedShape layLoop(const Loop& asGiven, const gp_Ax3& frame, const std::string& feature) {
    Loop loop = withoutPoints(asGiven);
    const double area = signedArea(loop);
    if (std::abs(area) < 1e-9) throw Refusal("refused", "the outline of " + feature + " encloses no area", feature);
    if (area < 0) loop = reversed(loop);

    std::vector<TopoDS_Vertex> corners;
    BRep_Builder builder;
    for (const Piece& piece : loop) {
        TopoDS_Vertex corner;
        builder.MakeVertex(corner, inSpace(frame, piece.from), Precision::Confusion());
        corners.push_back(corner);
    }
    BRepBuilderAPI_MakeWire wire;
    std::vector<TopoDS_Edge> edges;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Piece& piece = loop[i];
        const TopoDS_Vertex &from = corners[i], &to = corners[(i + 1) % corners.size()];
        BRepBuilderAPI_MakeEdge edge;
        if (piece.isArc) {
            const double radius = (piece.center.Distance(piece.from) + piece.center.Distance(piece.to)) / 2;
            edge.Init(new Geom_Circle(circleInSpace(frame, piece.center, radius, piece.turnsLeft)), from, to);
        } else {
            edge = BRepBuilderAPI_MakeEdge(from, to);
        }
        if (!edge.IsDone())
            throw Refusal("refused",
                          "piece " + std::to_string(i + 1) + " of the outline of " + feature + " cannot be drawn",
                          feature);
        edges.push_back(edge.Edge());
        wire.Add(edges.back());
        if (!wire.IsDone()) throw Refusal("refused", "the outline of " + feature + " does not close", feature);
    }
    NamedShape outline{checkedFace(frame, wire.Wire(), feature), {}};
    for (std::size_t i = 0; i < loop.size(); ++i)
        outline.names.add(edges[i], loop[i].names);
    return outline;
}

NamedShape layOutline(const Region& region, const gp_Ax3& frame, const std::string& feature) {
    struct Layer {
        const gp_Ax3& frame;
        const std::string& feature;
        NamedShape operator()(const Loop& it) const { return layLoop(it, frame, feature); }
        NamedShape operator()(const Circle& it) const { return layCircle(it, frame, feature); }
        NamedShape operator()(const Joined& it) const { return combineAll(it.regions, Way::join, frame, feature); }
        NamedShape operator()(const TakenAway& it) const {
            return combineAll(it.regions, Way::takeAway, frame, feature);
        }
        NamedShape operator()(const Overlapped& it) const {
            return combineAll(it.regions, Way::overlap, frame, feature);
        }
    };
    return std::visit(Layer{frame, feature}, region.is);
}

Region mirrored(const Region& region) {
    const auto flip = [](gp_Pnt2d p) { return gp_Pnt2d(p.X(), -p.Y()); };
    struct Mirror {
        decltype(flip)& flipped;
        Region operator()(Loop loop) const {
            for (Piece& piece : loop) {
                piece.from = flipped(piece.from);
                piece.to = flipped(piece.to);
                piece.center = flipped(piece.center);
                piece.turnsLeft = !piece.turnsLeft;
            }
            return {std::move(loop)};
        }
        Region operator()(Circle circle) const {
            circle.center = flipped(circle.center);
            return {std::move(circle)};
        }
        Region operator()(const Joined& it) const { return {Joined{mirrored(it.regions)}}; }
        Region operator()(const TakenAway& it) const { return {TakenAway{mirrored(it.regions)}}; }
        Region operator()(const Overlapped& it) const { return {Overlapped{mirrored(it.regions)}}; }
    };
    return std::visit(Mirror{flip}, region.is);
}
