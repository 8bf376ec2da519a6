#pragma once

#include "extent.hpp"
#include "weighing.hpp"

#include <NCollection_DataMap.hxx>
#include <TopTools_OrientedShapeMapHasher.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Pnt.hxx>
#include <memory>
#include <optional>

/// What has been found out about faces, so that it is not found out again for a face that an operation leaves as it
/// was (the same face of the library, in the same place, seen from the same side). Each is worked out when first asked
/// for.
class KnownFaces {
public:
    /// Whether the face is valid by itself: its wires closed and free of crossings, its edges on its surface.
    bool isValid(const TopoDS_Face& face);
    const Weight& weight(const TopoDS_Face& face);
    const Box& box(const TopoDS_Face& face);
    const gp_Pnt& pointOn(const TopoDS_Face& face);

    /// Takes over what is known of `before`, which is `now` in every respect.
    void same(const KnownFaces& known, const TopoDS_Face& before, const TopoDS_Face& now);
    /// Takes over what is known of those faces of a shape that it shares with another.
    void takeFrom(const KnownFaces& known, const TopoDS_Shape& shape);

private:
    struct Facts {
        std::optional<bool> isValid;
        std::optional<Weight> weight;
        std::optional<Box> box;
        std::optional<gp_Pnt> point;
    };
    Facts& of(const TopoDS_Face& face);

    NCollection_DataMap<TopoDS_Shape, std::shared_ptr<Facts>, TopTools_OrientedShapeMapHasher> facts_;
};
