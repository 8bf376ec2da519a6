#include "named_shape.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>

void NameMap::add(const TopoDS_Shape& shape, const std::vector<std::string>& names) {
    add(shape, NameSet(names.begin(), names.end()));
}

void NameMap::add(const TopoDS_Shape& shape, const NameSet& names) {
    if (NameSet* there = map_.ChangeSeek(shape))
        there->insert(names.begin(), names.end());
    else
        map_.Bind(shape, names);
}

const NameSet& NameMap::of(const TopoDS_Shape& shape) const {
    static const NameSet none;
    const NameSet* there = map_.Seek(shape);
    return there ? *there : none;
}

void carryNames(const NamedShape& before, TopAbs_ShapeEnum kind, const BRepTools_History& history,
                const TopTools_IndexedMapOfShape& after, NameMap& names) {
    for (const TopoDS_Shape& part : partsOf(before.shape, kind)) {
        if (!before.names.knows(part)) continue;
        const NameSet& borne = before.names.of(part);
        if (after.Contains(part)) names.add(part, borne);
        for (const TopoDS_Shape& now : history.Modified(part))
            if (after.Contains(now)) names.add(now, borne);
    }
}

std::vector<TopoDS_Shape> partsOf(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    const auto map = partMapOf(shape, kind);
    return {map.cbegin(), map.cend()};
}

TopTools_IndexedMapOfShape partMapOf(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape parts;
    TopExp::MapShapes(shape, kind, parts);
    return parts;
}

Box NamedShape::box() const {
    std::optional<Box> box;
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
        const Box& ofFace = known.box(TopoDS::Face(it.Current()));
        box = box ? around(*box, ofFace) : ofFace;
    }
    return box.value();
}

NamedShape copyOf(const NamedShape& original) {
    BRepBuilderAPI_Copy copier(original.shape, true, false);
    NamedShape copy{copier.Shape(), {}, original.weight};
    for (TopExp_Explorer it(original.shape, TopAbs_FACE); it.More(); it.Next()) {
        const TopoDS_Face face = TopoDS::Face(it.Current());
        const TopoDS_Face copied = TopoDS::Face(copier.ModifiedShape(face));
        copy.names.add(copied, original.names.of(face));
        copy.known.same(original.known, face, copied);
    }
    return copy;
}

bool isMeantBy(const std::string& name, const std::string& asked) {
    if (!name.starts_with(asked)) return false;
    return name.size() == asked.size() || name[asked.size()] == '.' || name[asked.size()] == '#';
}

bool bearsNameMeantBy(const NameSet& names, const std::string& asked) {
    return std::any_of(names.begin(), names.end(), [&](const auto& name) { return isMeantBy(name, asked); });
}
