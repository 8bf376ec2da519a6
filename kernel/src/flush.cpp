#include "flush.hpp"

#include "guards.hpp"

#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopTools_MapOfShape.hxx>

namespace {

/// The corners that no merged face has.
TopTools_MapOfShape cornersElsewhere(const TopoDS_Shape& before, const TopoDS_Shape& after,
                                     const BRepTools_History& merging) {
    TopTools_MapOfShape seen, atMerged, elsewhere;
    for (const TopoDS_Shape& face : partsOf(before, TopAbs_FACE))
        for (const TopoDS_Shape& now : merging.Modified(face))
            if (!seen.Add(now))
                for (const TopoDS_Shape& corner : partsOf(now, TopAbs_VERTEX))
                    atMerged.Add(corner);
    for (const TopoDS_Shape& corner : partsOf(after, TopAbs_VERTEX))
        if (!atMerged.Contains(corner)) elsewhere.Add(corner);
    return elsewhere;
}

} // namespace

void mergeFlushFaces(NamedShape& shape, BRepTools_History& history) {
    const TopoDS_Shape before = shape.shape;
    const auto becomes = [&](ShapeUpgrade_UnifySameDomain& merger) {
        NamedShape merged{merger.Shape(), {}};
        merged.known.takeFrom(shape.known, merged.shape);
        if (!isValid(merged)) return false;
        shape.shape = merged.shape;
        shape.known = std::move(merged.known);
        history.Merge(merger.History());
        return true;
    };
    ShapeUpgrade_UnifySameDomain faces(before, false, true, false);
    faces.Build();
    if (partsOf(before, TopAbs_FACE).size() == partsOf(faces.Shape(), TopAbs_FACE).size()) return;
    // A full round side and a part of one on the same surface are merged into a face that closes wrongly: two sound
    // faces are better.
    if (!becomes(faces)) return;

    ShapeUpgrade_UnifySameDomain edges(faces.Shape(), true, false, false);
    edges.KeepShapes(cornersElsewhere(before, faces.Shape(), *faces.History()));
    edges.Build();
    becomes(edges);
}
