#pragma once

#include "named_shape.hpp"

/// Merges faces that lie on one surface and touch, then the edges around them that continue each other.
/// Edges elsewhere stay as they are: a later round may depend on where they are split.
/// `history` is carried on; names are not, what is known of faces is.
void mergeFlushFaces(NamedShape& shape, BRepTools_History& history);
