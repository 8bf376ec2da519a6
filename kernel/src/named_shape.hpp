#pragma once

#include "known_faces.hpp"

#include <BRepTools_History.hxx>
#include <NCollection_DataMap.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS_Shape.hxx>
#include <set>
#include <string>
#include <vector>

using NameSet = std::set<std::string>;

/// Which names each face (or each edge of an outline) bears. A shape that is not in it is new to it.
class NameMap {
public:
    void add(const TopoDS_Shape& shape, const std::vector<std::string>& names);
    void add(const TopoDS_Shape& shape, const NameSet& names);
    bool knows(const TopoDS_Shape& shape) const { return map_.IsBound(shape); }
    const NameSet& of(const TopoDS_Shape& shape) const;

private:
    NCollection_DataMap<TopoDS_Shape, NameSet, TopTools_ShapeMapHasher> map_;
};

/// A shape, and the names that history gave its faces (its edges, while it is still an outline).
struct NamedShape {
    TopoDS_Shape shape;
    NameMap names;
    Weight weight = {}; ///< of a solid, once it has been weighed
    mutable KnownFaces known = {};

    double volumeMm3() const { return weight.volumeMm3; }
    /// The smallest box along the axes.
    Box box() const;
};

/// Carries names from what there was before an operation to what there is after it.
/// Whatever became of a named face bears its names; faces that fell together bear the names of both.
void carryNames(const NamedShape& before, TopAbs_ShapeEnum kind, const BRepTools_History& history,
                const TopTools_IndexedMapOfShape& after, NameMap& names);

/// All faces (or edges) of a shape in the order in which they lie in it.
std::vector<TopoDS_Shape> partsOf(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind);
TopTools_IndexedMapOfShape partMapOf(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind);

/// A copy that shares nothing with the original, so that nothing done to it reaches a solid that is kept.
NamedShape copyOf(const NamedShape& original);

/// Whether a name is meant by what somebody asked for: itself, one of its group ("lug" means "lug.top"), or one
/// of its row ("foot.rim" means "foot.rim#3").
bool isMeantBy(const std::string& name, const std::string& asked);
bool bearsNameMeantBy(const NameSet& names, const std::string& asked);
