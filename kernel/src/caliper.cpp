#include "caliper.hpp"

#include "extent.hpp"
#include "refusal.hpp"
#include "surfaces.hpp"
#include "words.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Lin.hxx>
#include <gp_Pln.hxx>

namespace {

constexpr double sameMm = 1e-6;   ///< pieces of one surface lie within this
constexpr double parallel = 1e-6; ///< radians

[[noreturn]] void refuse(const std::string& why) {
    throw Refusal("refused", why);
}

/// A jaw's resting place: a plane with its outward normal, or a round surface about an axis.
struct Surface {
    std::string name;
    bool isPlane;
    gp_Pnt at;     ///< on the plane, or on the axis
    gp_Dir along;  ///< outward normal, or axis
    double radius; ///< 0 of a plane
    double sign;   ///< +1 bulging, −1 hollow, 0 of a plane
};

std::vector<TopoDS_Face> facesNamed(const NamedShape& solid, const std::string& name) {
    std::vector<TopoDS_Face> faces;
    for (const TopoDS_Shape& face : partsOf(solid.shape, TopAbs_FACE))
        if (bearsNameMeantBy(solid.names.of(face), name)) faces.push_back(TopoDS::Face(face));
    if (faces.empty()) throw Refusal("missing", "no face is named " + name);
    return faces;
}

double distanceFromAxis(const gp_Pnt& p, const Surface& round) {
    return gp_Lin(round.at, round.along).Distance(p);
}

Surface surfaceOf(const TopoDS_Face& face, const std::string& name, const std::optional<gp_Pnt>& atPoint) {
    const BRepAdaptor_Surface surface(face);
    switch (surface.GetType()) {
    case GeomAbs_Plane:
        return {name, true, surface.Plane().Location(), outwardNormal(face, surface), 0, 0};
    case GeomAbs_Cylinder: {
        const gp_Cylinder cylinder = surface.Cylinder();
        return {name,
                false,
                cylinder.Location(),
                cylinder.Axis().Direction(),
                cylinder.Radius(),
                bulges(face, surface) ? 1.0 : -1.0};
    }
    case GeomAbs_Cone: {
        if (!atPoint) refuse(name + " is a cone: where along it the jaws touch must be said");
        const gp_Cone cone = surface.Cone();
        const double height = gp_Vec(cone.Location(), *atPoint).Dot(gp_Vec(cone.Axis().Direction()));
        return {name,
                false,
                cone.Location(),
                cone.Axis().Direction(),
                std::abs(cone.RefRadius() + height * std::tan(cone.SemiAngle())),
                bulges(face, surface) ? 1.0 : -1.0};
    }
    case GeomAbs_Sphere:
        refuse(name + " is a sphere, which jaws do not rest on; measure across it");
    case GeomAbs_Torus:
        refuse(name + " is a ring surface, which jaws do not rest on; measure across it");
    default:
        refuse(name + " is a free-form surface, which jaws do not rest on; measure across it");
    }
}

bool isSameSurface(const Surface& a, const Surface& b) {
    if (a.isPlane != b.isPlane || a.sign != b.sign) return false;
    if (a.isPlane)
        return a.along.Angle(b.along) < parallel && std::abs(gp_Vec(a.at, b.at).Dot(gp_Vec(a.along))) < sameMm;
    return a.along.IsParallel(b.along, parallel) && distanceFromAxis(b.at, a) < sameMm &&
           std::abs(a.radius - b.radius) < sameMm;
}

/// The one surface on which all faces of a name lie.
Surface surfaceNamed(const NamedShape& solid, const std::string& name, const std::optional<gp_Pnt>& atPoint) {
    const auto faces = facesNamed(solid, name);
    const Surface first = surfaceOf(faces.front(), name, atPoint);
    for (const TopoDS_Face& face : faces)
        if (!isSameSurface(first, surfaceOf(face, name, atPoint)))
            refuse(name + " does not lie on one surface: say across which direction to measure");
    return first;
}

double extentOf(const NamedShape& solid, const std::vector<std::string>& names, const gp_Dir& direction) {
    BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    for (const std::string& name : names)
        for (const TopoDS_Face& face : facesNamed(solid, name))
            builder.Add(all, face);
    const Extent extent = extentAlong(all, direction);
    return extent.high - extent.low;
}

/// Distance along the first plane's normal, above zero where the second lies outward of it.
double heightOver(const Surface& plane, const gp_Pnt& p) {
    return gp_Vec(plane.at, p).Dot(gp_Vec(plane.along));
}

double betweenPlanes(const Surface& a, const Surface& b, Reading::Way way) {
    if (!a.along.IsParallel(b.along, parallel)) refuse(a.name + " and " + b.name + " are not parallel");
    const double height = heightOver(a, b.at);
    const bool faceSameWay = a.along.Dot(b.along) > 0;
    if (way == Reading::Way::depth || way == Reading::Way::step) {
        if (!faceSameWay)
            refuse(a.name + " and " + b.name + " do not face the same way, so there is no " +
                   (way == Reading::Way::depth ? "depth" : "step") + " between them");
        return std::abs(height);
    }
    if (faceSameWay) refuse(a.name + " and " + b.name + " face the same way: that is a depth or a step");
    if (way == Reading::Way::outside && height > 0)
        refuse(a.name + " and " + b.name + " face each other: that is an inside reading");
    if (way == Reading::Way::inside && height < 0)
        refuse(a.name + " and " + b.name + " face away from each other: that is an outside reading");
    return std::abs(height);
}

/// Axis to plane; a plane counts as a round surface of radius 0.
double betweenPlaneAndRound(const Surface& plane, const Surface& round, Reading::Way way) {
    if (std::abs(plane.along.Dot(round.along)) > parallel)
        refuse("the axis of " + round.name + " is not parallel to " + plane.name);
    const double height = heightOver(plane, round.at), apart = std::abs(height);
    // Jaws close on material that lies behind the plane, or spread in the space before it.
    if (way == Reading::Way::outside && height > sameMm)
        refuse(plane.name + " faces " + round.name + ": that is an inside reading");
    if (way == Reading::Way::inside && height < -sameMm)
        refuse(plane.name + " faces away from " + round.name + ": that is an outside reading");
    return way == Reading::Way::outside ? apart + round.sign * round.radius : apart - round.sign * round.radius;
}

double betweenRounds(const Surface& a, const Surface& b, Reading::Way way) {
    const gp_Lin first(a.at, a.along), second(b.at, b.along);
    const bool areParallel = a.along.IsParallel(b.along, parallel);
    if (!areParallel && a.sign < 0 && b.sign < 0)
        refuse("the axes of " + a.name + " and " + b.name + " cross, and no jaw gets at both holes");
    // Between crossed axes this is the length of their common perpendicular.
    const double apart = areParallel ? first.Distance(b.at) : first.Distance(second);
    const double both = a.sign * a.radius + b.sign * b.radius;
    return way == Reading::Way::outside ? apart + both : apart - both;
}

double diameter(const Surface& round, Reading::Way way) {
    if (way == Reading::Way::outside && round.sign < 0)
        refuse(round.name + " is hollow: its diameter is an inside reading");
    if (way == Reading::Way::inside && round.sign > 0)
        refuse(round.name + " bulges: its diameter is an outside reading");
    return 2 * round.radius;
}

double between(const Surface& a, const Surface& b, Reading::Way way) {
    if (a.isPlane && b.isPlane) return betweenPlanes(a, b, way);
    if (way == Reading::Way::depth || way == Reading::Way::step)
        refuse(std::string("a ") + (way == Reading::Way::depth ? "depth" : "step") +
               " goes between parallel planes, and " + (a.isPlane ? b.name : a.name) + " is round");
    if (a.isPlane) return betweenPlaneAndRound(a, b, way);
    if (b.isPlane) return betweenPlaneAndRound(b, a, way);
    return betweenRounds(a, b, way);
}

} // namespace

double take(const Reading& reading, const NamedShape& solid) {
    if (reading.across) return extentOf(solid, reading.of, *reading.across);
    const Surface first = surfaceNamed(solid, reading.of.front(), reading.atPoint);
    if (reading.of.size() == 1) {
        if (first.isPlane)
            refuse(first.name + " alone is flat: a second element, or a direction to measure across, is needed");
        if (reading.way == Reading::Way::depth || reading.way == Reading::Way::step)
            refuse("a depth or step goes between two elements");
        return diameter(first, reading.way);
    }
    const double mm = between(first, surfaceNamed(solid, reading.of[1], reading.atPoint), reading.way);
    if (mm <= 0)
        refuse(reading.of[0] + " and " + reading.of[1] + " leave nothing to measure between them (" + inWords(mm) +
               ")");
    return mm;
}
