#include "flush.hpp"

#include "named_shape.hpp"

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
    history.Merge(faces.History());
    if (partsOf(shape, TopAbs_FACE).size() == partsOf(faces.Shape(), TopAbs_FACE).size()) return faces.Shape();

    ShapeUpgrade_UnifySameDomain edges(faces.Shape(), true, false, false);
    edges.KeepShapes(cornersElsewhere(shape, faces.Shape(), *faces.History()));
    edges.Build();
    history.Merge(edges.History());
    return edges.Shape();
}
