#include "rounds.hpp"

#include "edges.hpp"
#include "guards.hpp"
#include "library.hpp"
#include "round_fit.hpp"
#include "words.hpp"

#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace {

/// One round being made: what is asked of the library, and what came of it.
class RoundMaker {
public:
    RoundMaker(const NamedShape& base, const Transition& round, const std::string& feature)
        : base_(base), round_(round), feature_(feature), edges_(chooseEdges(base, round.edges)) {}

    bool hasEdges() const { return !edges_.empty(); }

    Rounded make() {
        refuseWrongSide();
        refuseWhatDoesNotFit(base_, edges_, round_, feature_);
        // How closely the library follows faces that have no formula. Its own default is 1e-4, which leaves faces that
        // meet no better than that; where one does not work, another may.
        for (const double approximationMm : {1e-5, 1e-6}) {
            try {
                return attempt(approximationMm);
            } catch (const Refusal& refusal) {
                if (refusal.kind != "failed" && refusal.kind != "wrong") throw;
            }
        }
        return attempt(1e-4);
    }

private:
    Rounded attempt(double approximationMm) {
        Rounded rounded = askLibrary(feature_, doesNotWork(), [&] { return askFor(approximationMm); });
        const auto solids = partsOf(rounded.solid.shape, TopAbs_SOLID);
        if (solids.size() != 1)
            throw Refusal("wrong", feature_ + " came out wrong: " + std::to_string(solids.size()) + " solids",
                          feature_);
        rounded.solid.shape = solids.front();
        guardSolid(rounded.solid, volumeBound(), base_.box(), feature_);
        return rounded;
    }

    std::string doesNotWork() const {
        return std::string(round_.word()) + " " + inWords(round_.size) + " of " + feature_ + " could not be made";
    }

    void refuseWrongSide() const {
        const std::string orExcept = round_.edges.meeting ? "" : ", and name that pair under except here";
        for (const Edge& edge : edges_) {
            const std::string where = feature_ + ": the " + inWords(edge, base_.names);
            if (round_.kind == Transition::Kind::edgeRound && edge.meeting == Meeting::concave)
                throw Refusal("refused", where + " is an inner corner, which an edge round cannot take", feature_,
                              "use a fillet there" + orExcept);
            if (round_.kind == Transition::Kind::fillet && edge.meeting == Meeting::convex)
                throw Refusal("refused", where + " is an outer edge, which a fillet cannot take", feature_,
                              "use an edge round there" + orExcept);
        }
    }

    Rounded askFor(double approximationMm) {
        if (round_.kind != Transition::Kind::chamfer) {
            BRepFilletAPI_MakeFillet maker(base_.shape);
            constexpr double angular = 1e-2, deflection = 1e-3; // the library's defaults
            maker.SetParams(angular, approximationMm, approximationMm, approximationMm, approximationMm / 10,
                            deflection);
            for (const Edge& edge : edges_)
                maker.Add(round_.size, edge.edge);
            return take(maker);
        }
        BRepFilletAPI_MakeChamfer maker(base_.shape);
        for (const Edge& edge : edges_) {
            if (round_.angleDeg == 45)
                maker.Add(round_.size, edge.edge);
            else
                maker.AddDA(round_.size, round_.angleDeg * std::numbers::pi / 180, edge.edge, edge.first);
        }
        return take(maker);
    }

    template <class Maker> Rounded take(Maker& maker) {
        Rounded rounded{{}, runOnsOf(maker)};
        maker.Build();
        if (!maker.IsDone()) throw Refusal("failed", doesNotWork(), feature_);
        TopTools_ListOfShape arguments;
        arguments.Append(base_.shape);
        const BRepTools_History history(arguments, maker);
        rounded.solid.shape = maker.Shape();
        rounded.solid.known.takeFrom(base_.known, rounded.solid.shape);
        const auto faces = partMapOf(rounded.solid.shape, TopAbs_FACE);
        carryNames(base_, TopAbs_FACE, history, faces, rounded.solid.names);
        for (const TopoDS_Shape& face : partsOf(rounded.solid.shape, TopAbs_FACE))
            if (!rounded.solid.names.knows(face)) rounded.solid.names.add(face, Names{feature_ + ".face"});
        return rounded;
    }

    /// The library takes along every edge that continues smoothly one that it was given.
    template <class Maker> std::vector<RunOn> runOnsOf(const Maker& maker) {
        taken_ = edges_;
        const std::vector<Edge> all = edgesOf(base_);
        const auto find = [](const std::vector<Edge>& edges, const TopoDS_Edge& edge) {
            return std::find_if(edges.begin(), edges.end(), [&](const Edge& e) { return e.edge.IsSame(edge); });
        };
        std::vector<RunOn> runOns;
        for (int contour = 1; contour <= maker.NbContours(); ++contour)
            for (int i = 1; i <= maker.NbEdges(contour); ++i) {
                const TopoDS_Edge taken = maker.Edge(contour, i);
                const auto edge = find(all, taken);
                if (edge == all.end() || find(edges_, taken) != edges_.end()) continue;
                if (isExcepted(*edge, round_.edges, base_.names))
                    throw Refusal("refused",
                                  feature_ + " would run on along the " + inWords(*edge, base_.names) +
                                      ", which is excepted: it continues smoothly an edge that is not",
                                  feature_, "leave that pair in, or except its neighbours too");
                runOns.push_back(
                    {base_.names.of(edge->first), base_.names.of(edge->second), feature_, round_.kind, round_.size});
            }
        return runOns;
    }

    /// A round can at most move a strip as wide as its setback along each edge that it takes, twice over for the
    /// corners where they meet.
    VolumeBound volumeBound() const {
        const double before = base_.volumeMm3();
        double shrinks = 0, grows = 0;
        for (const Edge& edge : taken_) {
            const double wide = std::max(setbackOn(edge.first, edge, round_), setbackOn(edge.second, edge, round_));
            (edge.meeting == Meeting::convex ? shrinks : grows) += 2 * wide * wide * (edge.lengthMm + 4 * wide);
        }
        return {shrinks > 0 ? before - shrinks : before, grows > 0 ? before + grows : before};
    }

    const NamedShape& base_;
    const Transition& round_;
    const std::string& feature_;
    std::vector<Edge> edges_; ///< asked for
    std::vector<Edge> taken_; ///< those, and those that the library takes along
};

bool isBetween(const RunOn& runOn, const std::pair<std::string, std::string>& asked) {
    const auto is = [](const NameSet& names, const std::string& name) { return bearsNameMeantBy(names, name); };
    return (is(runOn.first, asked.first) && is(runOn.second, asked.second)) ||
           (is(runOn.first, asked.second) && is(runOn.second, asked.first));
}

/// Gives the faces of an earlier round between the two named ones their second name.
NamedShape nameAgain(const NamedShape& base, const std::string& by, const std::pair<std::string, std::string>& asked,
                     const std::string& feature) {
    const std::vector<Edge> edges = edgesOf(base);
    const auto touches = [&](const TopoDS_Shape& face, const std::string& name) {
        return std::any_of(edges.begin(), edges.end(), [&](const Edge& e) {
            return (e.first.IsSame(face) && bearsNameMeantBy(base.names.of(e.second), name)) ||
                   (e.second.IsSame(face) && bearsNameMeantBy(base.names.of(e.first), name));
        });
    };
    NamedShape named = base;
    for (const TopoDS_Shape& face : partsOf(base.shape, TopAbs_FACE))
        if (base.names.of(face).contains(by + ".face") && touches(face, asked.first) && touches(face, asked.second))
            named.names.add(face, Names{feature + ".face"});
    return named;
}

/// None of the edges asked for is there: either an earlier round has run on along them, or the reason is told.
Rounded explainNoEdges(const NamedShape& base, const Transition& round, const std::vector<RunOn>& earlier,
                       const std::string& feature) {
    const std::string whenItsTurnComes = " when the turn of " + feature + " comes";
    if (!round.edges.meeting)
        throw Refusal("missing", round.edges.edgesOf + " has no edges between its own faces" + whenItsTurnComes,
                      feature);
    const auto& asked = *round.edges.meeting;
    for (const RunOn& runOn : earlier) {
        if (!isBetween(runOn, asked)) continue;
        if (runOn.kind == round.kind && runOn.size == round.size)
            return {nameAgain(base, runOn.by, asked, feature), {}};
        throw Refusal("refused",
                      feature + ": " + runOn.by + " has already run on along the edge between " + asked.first +
                          " and " + asked.second + ", with " + inWords(runOn.size),
                      feature, "give " + feature + " the size of " + runOn.by + ", or leave it out");
    }
    for (const std::string& name : {asked.first, asked.second}) {
        const auto faces = partsOf(base.shape, TopAbs_FACE);
        if (std::none_of(faces.begin(), faces.end(),
                         [&](const auto& face) { return bearsNameMeantBy(base.names.of(face), name); }))
            throw Refusal("missing", "no face is named " + name + whenItsTurnComes, feature);
    }
    throw Refusal("missing", asked.first + " and " + asked.second + " do not meet in an edge" + whenItsTurnComes,
                  feature);
}

} // namespace

Rounded roundEdges(const NamedShape& base, const Transition& round, const std::vector<RunOn>& earlier,
                   const std::string& feature) {
    if (base.shape.IsNull())
        throw Refusal("refused", feature + " comes first, but there is nothing yet to round", feature);
    if (round.size <= 0)
        throw Refusal("refused", std::string(round.word()) + " of " + feature + " must be above zero", feature);
    // The library writes on the solid that it rounds; the kept one must stay as it is.
    const NamedShape copy = copyOf(base);
    RoundMaker maker(copy, round, feature);
    return maker.hasEdges() ? maker.make() : explainNoEdges(base, round, earlier, feature);
}
