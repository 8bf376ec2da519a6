#include "surfaces.hpp"

#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>
#include <numbers>

namespace {

/// A point's distance from an axis and its height along it.
std::pair<double, double> aroundAxis(const gp_Ax3& position, const gp_Pnt& p) {
    const gp_Vec from(position.Location(), p);
    const double height = from.Dot(gp_Vec(position.Direction()));
    return {(from - gp_Vec(position.Direction()) * height).Magnitude(), height};
}

/// The axes of a round surface.
gp_Ax3 positionOf(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_Cylinder:
        return surface.Cylinder().Position();
    case GeomAbs_Cone:
        return surface.Cone().Position();
    case GeomAbs_Sphere:
        return surface.Sphere().Position();
    case GeomAbs_Torus:
        return surface.Torus().Position();
    default:
        return surface.Plane().Position();
    }
}

Answer triple(const gp_XYZ& p) {
    // Adding zero turns -0 into 0.
    return {p.X() + 0.0, p.Y() + 0.0, p.Z() + 0.0};
}

} // namespace

double distanceTo(const BRepAdaptor_Surface& surface, const gp_Pnt& p, const gp_XY& near, double enough) {
    switch (surface.GetType()) {
    case GeomAbs_Plane:
        return surface.Plane().Distance(p);
    case GeomAbs_Cylinder:
        return std::abs(aroundAxis(surface.Cylinder().Position(), p).first - surface.Cylinder().Radius());
    case GeomAbs_Sphere:
        return std::abs(surface.Sphere().Location().Distance(p) - surface.Sphere().Radius());
    case GeomAbs_Cone: {
        const gp_Cone cone = surface.Cone();
        const auto [radius, height] = aroundAxis(cone.Position(), p);
        const double there = std::abs(cone.RefRadius() + height * std::tan(cone.SemiAngle()));
        return std::abs(radius - there) * std::cos(cone.SemiAngle());
    }
    case GeomAbs_Torus: {
        const gp_Torus torus = surface.Torus();
        const auto [radius, height] = aroundAxis(torus.Position(), p);
        return std::abs(std::hypot(radius - torus.MajorRadius(), height) - torus.MinorRadius());
    }
    default: {
        double u = near.X(), v = near.Y(), best = surface.Value(u, v).Distance(p);
        if (best <= enough) return best;
        // A few Gauss–Newton steps towards the foot of the perpendicular.
        for (int i = 0; i < 4; ++i) {
            gp_Pnt s;
            gp_Vec du, dv;
            surface.D1(u, v, s, du, dv);
            const gp_Vec r(s, p);
            const double uu = du.Dot(du), uv = du.Dot(dv), vv = dv.Dot(dv), det = uu * vv - uv * uv;
            if (std::abs(det) < 1e-20) break;
            u += (vv * r.Dot(du) - uv * r.Dot(dv)) / det;
            v += (uu * r.Dot(dv) - uv * r.Dot(du)) / det;
            u = std::clamp(u, surface.FirstUParameter(), surface.LastUParameter());
            v = std::clamp(v, surface.FirstVParameter(), surface.LastVParameter());
            best = std::min(best, surface.Value(u, v).Distance(p));
        }
        return best;
    }
    }
}

const char* typeOf(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_Plane:
        return "plane";
    case GeomAbs_Cylinder:
        return "cylinder";
    case GeomAbs_Cone:
        return "cone";
    case GeomAbs_Sphere:
        return "sphere";
    case GeomAbs_Torus:
        return "torus";
    default:
        return "other";
    }
}

bool bulges(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    return positionOf(surface).Direct() == (face.Orientation() == TopAbs_FORWARD);
}

gp_Dir outwardNormal(const TopoDS_Face& face, const BRepAdaptor_Surface& plane) {
    const gp_Ax3 position = plane.Plane().Position();
    return position.Direct() == (face.Orientation() == TopAbs_FORWARD) ? position.Direction()
                                                                       : position.Direction().Reversed();
}

std::vector<PlacedFace> facesInOrder(const NamedShape& solid) {
    struct Keyed {
        std::vector<std::string> names;
        std::array<double, 6> corners; // rounded, so that the last digits do not decide
        PlacedFace placed;
    };
    std::vector<Keyed> keyed;
    for (const TopoDS_Shape& face : partsOf(solid.shape, TopAbs_FACE)) {
        const NameSet& names = solid.names.of(face);
        Keyed key{{names.begin(), names.end()}, {}, {TopoDS::Face(face), solid.known.box(TopoDS::Face(face))}};
        const auto rounded = [](double mm) { return std::round(mm * 1e6) / 1e6; };
        for (int i = 0; i < 3; ++i) {
            key.corners[i] = rounded(key.placed.box.low[i]);
            key.corners[i + 3] = rounded(key.placed.box.high[i]);
        }
        keyed.push_back(std::move(key));
    }
    std::stable_sort(keyed.begin(), keyed.end(), [](const Keyed& a, const Keyed& b) {
        return std::tie(a.names, a.corners) < std::tie(b.names, b.corners);
    });
    std::vector<PlacedFace> faces;
    for (Keyed& key : keyed)
        faces.push_back(std::move(key.placed));
    return faces;
}

Answer describe(const PlacedFace& placed, const NamedShape& solid) {
    const auto& [face, box] = placed;
    const BRepAdaptor_Surface surface(face);
    Answer line;
    line["names"] = solid.names.of(face);
    line["type"] = typeOf(surface);
    if (surface.GetType() <= GeomAbs_Torus) {
        const gp_Ax3 position = positionOf(surface);
        const bool isPlane = surface.GetType() == GeomAbs_Plane;
        line["origin"] = triple(position.Location().XYZ());
        line["direction"] = triple((isPlane ? outwardNormal(face, surface) : position.Direction()).XYZ());
        line["bulges"] = !isPlane && bulges(face, surface);
    } else {
        line["bulges"] = false;
    }
    switch (surface.GetType()) {
    case GeomAbs_Cylinder:
        line["radius"] = surface.Cylinder().Radius();
        break;
    case GeomAbs_Sphere:
        line["radius"] = surface.Sphere().Radius();
        break;
    case GeomAbs_Cone:
        line["radius"] = surface.Cone().RefRadius();
        line["halfAngle"] = surface.Cone().SemiAngle() * 180 / std::numbers::pi;
        break;
    case GeomAbs_Torus:
        line["radius"] = surface.Torus().MajorRadius();
        line["minorRadius"] = surface.Torus().MinorRadius();
        break;
    default:
        break;
    }
    line["areaMm2"] = solid.known.weight(face).areaMm2;
    line["boxMm"] = {box.low, box.high};
    line["at"] = triple(solid.known.pointOn(face).XYZ());
    return line;
}
