#pragma once

#include <BRepTools_History.hxx>
#include <TopoDS_Shape.hxx>

/// Merges faces that lie on one surface and touch, then the edges around them that continue each other.
/// Edges elsewhere stay as they are: a later round may depend on where they are split.
/// `history` is carried on.
TopoDS_Shape mergeFlushFaces(const TopoDS_Shape& shape, BRepTools_History& history);
