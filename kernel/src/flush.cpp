#include "flush.hpp"

#include "named_shape.hpp"

#include <BRepCheck_Analyzer.hxx>
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

TopoDS_Shape mergeFlushFaces(const TopoDS_Shape& shape, BRepTools_History& history) {
    ShapeUpgrade_UnifySameDomain faces(shape, false, true, false);
    faces.Build();
    if (partsOf(shape, TopAbs_FACE).size() == partsOf(faces.Shape(), TopAbs_FACE).size()) return shape;
    // A full round side and a part of one on the same surface are merged into a face that closes wrongly: two sound faces are better.
    if (!BRepCheck_Analyzer(faces.Shape()).IsValid()) return shape;
    history.Merge(faces.History());

    ShapeUpgrade_UnifySameDomain edges(faces.Shape(), true, false, false);
    edges.KeepShapes(cornersElsewhere(shape, faces.Shape(), *faces.History()));
    edges.Build();
    if (!BRepCheck_Analyzer(edges.Shape()).IsValid()) return faces.Shape();
    history.Merge(edges.History());
    return edges.Shape();
}
