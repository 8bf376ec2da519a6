#include "combine.hpp"

#include "flush.hpp"
#include "guards.hpp"
#include "library.hpp"
#include "tool.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <algorithm>

namespace {

/// Joins or cuts, then merges the faces that lie flush.
NamedShape askFor(const NamedShape& base, const std::vector<NamedShape>& tools, bool isCut, double fuzzyMm,
                  const std::string& feature, Deadline& deadline) {
    BRepAlgoAPI_Fuse fuse;
    BRepAlgoAPI_Cut cut;
    BRepAlgoAPI_BooleanOperation& operation = isCut ? static_cast<BRepAlgoAPI_BooleanOperation&>(cut) : fuse;
    TopTools_ListOfShape arguments, others;
    arguments.Append(base.shape);
    for (const NamedShape& tool : tools)
        others.Append(tool.shape);
    operation.SetArguments(arguments);
    operation.SetTools(others);
    operation.SetRunParallel(false);
    operation.SetNonDestructive(true);
    operation.SetFuzzyValue(fuzzyMm);
    operation.Build(deadline.range());
    deadline.check(feature);
    if (operation.HasErrors())
        throw Refusal("failed", feature + (isCut ? " could not be cut" : " could not be joined"), feature);

    if (operation.HasWarnings())
        throw Refusal("wrong",
                      feature + (isCut ? " was cut" : " was joined") + ", but not without doubts of the library",
                      feature);

    BRepTools_History history;
    history.Merge(operation.History());
    NamedShape result{operation.Shape(), {}};
    const auto takeKnown = [&] {
        result.known.takeFrom(base.known, result.shape);
        for (const NamedShape& tool : tools)
            result.known.takeFrom(tool.known, result.shape);
    };
    takeKnown();
    if (!partsOf(result.shape, TopAbs_SOLID).empty()) mergeFlushFaces(result, history);
    const auto faces = partMapOf(result.shape, TopAbs_FACE);
    carryNames(base, TopAbs_FACE, history, faces, result.names);
    for (const NamedShape& tool : tools)
        carryNames(tool, TopAbs_FACE, history, faces, result.names);
    return result;
}

NamedShape attempt(const NamedShape& base, const std::vector<NamedShape>& tools, bool isCut, double fuzzyMm,
                   const std::string& feature, Deadline& deadline) {
    NamedShape result = askLibrary(feature, feature + (isCut ? " could not be cut" : " could not be joined"),
                                   [&] { return askFor(base, tools, isCut, fuzzyMm, feature, deadline); });
    const auto solids = partsOf(result.shape, TopAbs_SOLID);
    if (solids.empty() && isCut) throw Refusal("refused", feature + " removes everything", feature);
    if (solids.empty()) throw Refusal("failed", feature + " could not be joined", feature);
    if (solids.size() > 1) {
        const std::string count = std::to_string(solids.size()) + " pieces";
        if (isCut) throw Refusal("refused", feature + " cuts the part in two (" + count + ")", feature);
        throw Refusal("refused", feature + " does not touch the rest (" + count + ")", feature,
                      "let it reach a little into the rest; a common edge or point does not hold");
    }
    result.shape = solids.front();

    const double before = base.volumeMm3();
    double ofTools = 0;
    Box box = base.box();
    for (const NamedShape& tool : tools) {
        ofTools += tool.volumeMm3();
        if (!isCut) box = around(box, tool.box());
    }
    guardSolid(result, isCut ? VolumeBound{before - ofTools, before} : VolumeBound{before, before + ofTools}, box,
               feature);
    if (isCut && before - result.volumeMm3() < 1e-6)
        throw Refusal("refused", feature + " cuts nothing: it does not reach into the part", feature);
    return result;
}

} // namespace

NamedShape combine(const NamedShape& base, const Combination& combination, const std::string& feature,
                   Deadline& deadline) {
    std::vector<NamedShape> tools = askLibrary(feature, feature + " could not be shaped", [&] {
        std::vector<NamedShape> all;
        for (const Tool& tool : combination.tools)
            for (NamedShape& solid : buildTool(tool, feature))
                all.push_back(std::move(solid));
        return all;
    });
    NamedShape first = base;
    if (first.shape.IsNull()) {
        if (combination.isCut)
            throw Refusal("refused", feature + " cuts, but there is nothing yet to cut from", feature);
        first = std::move(tools.front());
        tools.erase(tools.begin());
        if (tools.empty()) {
            guardSolid(first, {first.volumeMm3(), first.volumeMm3()}, first.box(), feature);
            return first;
        }
    }
    for (const double fuzzyMm : {0.0, 1e-5}) {
        try {
            return attempt(first, tools, combination.isCut, fuzzyMm, feature, deadline);
        } catch (const Refusal& refusal) {
            // What is refused for a reason of its own is not made better by a wider tolerance.
            if (refusal.kind != "failed" && refusal.kind != "wrong") throw;
        }
    }
    return attempt(first, tools, combination.isCut, 1e-4, feature, deadline);
}
