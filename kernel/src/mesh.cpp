#include "mesh.hpp"

#include "named_shape.hpp"
#include "refusal.hpp"
#include "surfaces.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <IMeshTools_Parameters.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace {

using Triangle = std::array<std::uint32_t, 3>;

/// Joins the triangulations of the faces along what they share.
class Welder {
public:
    Welder(const TopoDS_Shape& solid, double chordMm) : chordMm_(chordMm), faces_(partMapOf(solid, TopAbs_FACE)) {
        TopExp::MapShapes(solid, TopAbs_VERTEX, corners_);
        TopExp::MapShapes(solid, TopAbs_EDGE, edges_);
        along_.resize(edges_.Extent());
        for (const TopoDS_Shape& corner : partsOf(solid, TopAbs_VERTEX))
            addPoint(BRep_Tool::Pnt(TopoDS::Vertex(corner)));
    }

    /// `numbers`: what to call each face, in the order in which they lie in the solid.
    Mesh weld(const std::vector<std::uint32_t>& numbers) {
        for (int i = 1; i <= faces_.Extent(); ++i)
            addFace(TopoDS::Face(faces_(i)), numbers[i - 1]);
        return std::move(mesh_);
    }

private:
    static constexpr std::uint32_t unset = ~std::uint32_t(0);

    std::uint32_t addPoint(const gp_Pnt& p) {
        mesh_.points.push_back({p.X(), p.Y(), p.Z()});
        return static_cast<std::uint32_t>(mesh_.points.size() - 1);
    }

    /// The mesh points along an edge, made when its first face comes by.
    template <class NodeAt>
    const std::vector<std::uint32_t>& pointsAlong(const TopoDS_Edge& edge, const TColStd_Array1OfInteger& nodes,
                                                  const NodeAt& nodeAt) {
        auto& points = along_[edges_.FindIndex(edge) - 1];
        if (!points.empty()) return points;
        const auto corner = [&](const TopoDS_Vertex& v) {
            return static_cast<std::uint32_t>(corners_.FindIndex(v) - 1);
        };
        const TopoDS_Edge forward = TopoDS::Edge(edge.Oriented(TopAbs_FORWARD));
        const std::uint32_t first = corner(TopExp::FirstVertex(forward)), last = corner(TopExp::LastVertex(forward));
        points.resize(nodes.Length(), first); // all of them when the edge is a mere point (tip of a cone)
        if (BRep_Tool::Degenerated(edge)) return points;
        for (int i = 1; i + 1 < nodes.Length(); ++i)
            points[i] = addPoint(nodeAt(nodes(nodes.Lower() + i)));
        points.back() = last;
        return points;
    }

    void addFace(const TopoDS_Face& face, std::uint32_t index) {
        TopLoc_Location location;
        const Handle(Poly_Triangulation) triangulation = BRep_Tool::Triangulation(face, location);
        if (triangulation.IsNull()) throw Refusal("failed", "a face could not be meshed");
        // Faces may be moved copies of each other, which share one triangulation.
        const gp_Trsf toSpace = location.Transformation();
        const auto nodeAt = [&](int node) { return triangulation->Node(node).Transformed(toSpace); };
        std::vector<std::uint32_t> pointOf(triangulation->NbNodes(), unset);
        for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(it.Current());
            const Handle(Poly_PolygonOnTriangulation) polygon =
                BRep_Tool::PolygonOnTriangulation(edge, triangulation, location);
            if (polygon.IsNull()) throw Refusal("failed", "an edge could not be meshed");
            const TColStd_Array1OfInteger& nodes = polygon->Nodes();
            const auto& points = pointsAlong(edge, nodes, nodeAt);
            if (static_cast<int>(points.size()) != nodes.Length())
                throw Refusal("wrong", "two faces see their common edge differently");
            for (int i = 0; i < nodes.Length(); ++i)
                pointOf[nodes(nodes.Lower() + i) - 1] = points[i];
        }
        for (int i = 0; i < triangulation->NbNodes(); ++i)
            if (pointOf[i] == unset) pointOf[i] = addPoint(nodeAt(i + 1));

        const BRepAdaptor_Surface surface(face);
        for (int i = 1; i <= triangulation->NbTriangles(); ++i) {
            int a, b, c;
            triangulation->Triangle(i).Get(a, b, c);
            if (face.Orientation() == TopAbs_REVERSED) std::swap(b, c);
            const Triangle triangle{pointOf[a - 1], pointOf[b - 1], pointOf[c - 1]};
            if (triangle[0] == triangle[1] || triangle[1] == triangle[2] || triangle[2] == triangle[0]) continue;
            mesh_.triangles.push_back(triangle);
            mesh_.faces.push_back(index);
            mesh_.worstChordMm =
                std::max(mesh_.worstChordMm,
                         chordOf(surface, {nodeAt(a), nodeAt(b), nodeAt(c)},
                                 {triangulation->UVNode(a), triangulation->UVNode(b), triangulation->UVNode(c)}));
        }
    }

    /// How far a triangle lies from its surface: seen at its middle and the middles of its sides.
    double chordOf(const BRepAdaptor_Surface& surface, const std::array<gp_Pnt, 3>& corners,
                   const std::array<gp_Pnt2d, 3>& parameters) const {
        if (surface.GetType() == GeomAbs_Plane) return 0;
        gp_XYZ p[3];
        gp_XY uv[3];
        for (int i = 0; i < 3; ++i) {
            p[i] = corners[i].XYZ();
            uv[i] = parameters[i].XY();
        }
        const auto off = [&](const gp_XYZ& here, const gp_XY& near) {
            return distanceTo(surface, gp_Pnt(here), near, chordMm_ / 4);
        };
        return std::max({off((p[0] + p[1]) / 2, (uv[0] + uv[1]) / 2), off((p[1] + p[2]) / 2, (uv[1] + uv[2]) / 2),
                         off((p[2] + p[0]) / 2, (uv[2] + uv[0]) / 2),
                         off((p[0] + p[1] + p[2]) / 3, (uv[0] + uv[1] + uv[2]) / 3)});
    }

    double chordMm_;
    TopTools_IndexedMapOfShape faces_, corners_, edges_;
    std::vector<std::vector<std::uint32_t>> along_;
    Mesh mesh_;
};

/// Puts points in order of their coordinates and triangles in order of face and points.
void sortMesh(Mesh& mesh) {
    std::vector<std::uint32_t> order(mesh.points.size()), place(mesh.points.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return mesh.points[a] < mesh.points[b]; });
    std::vector<std::array<double, 3>> points;
    for (std::uint32_t i = 0; i < order.size(); ++i) {
        place[order[i]] = i;
        points.push_back(mesh.points[order[i]]);
    }
    std::vector<std::pair<std::uint32_t, Triangle>> triangles;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        Triangle t = mesh.triangles[i];
        for (auto& corner : t)
            corner = place[corner];
        std::rotate(t.begin(), std::min_element(t.begin(), t.end()), t.end());
        triangles.emplace_back(mesh.faces[i], t);
    }
    std::sort(triangles.begin(), triangles.end());
    mesh.points = std::move(points);
    for (std::size_t i = 0; i < triangles.size(); ++i)
        std::tie(mesh.faces[i], mesh.triangles[i]) = triangles[i];
}

} // namespace

double Mesh::volumeMm3() const {
    double six = 0;
    for (const auto& [a, b, c] : triangles) {
        const auto &p = points[a], &q = points[b], &r = points[c];
        six += p[0] * (q[1] * r[2] - q[2] * r[1]) + p[1] * (q[2] * r[0] - q[0] * r[2]) +
               p[2] * (q[0] * r[1] - q[1] * r[0]);
    }
    return six / 6;
}

double Mesh::areaMm2(std::size_t triangle) const {
    const auto& [a, b, c] = triangles[triangle];
    const auto at = [&](std::uint32_t i) { return gp_XYZ(points[i][0], points[i][1], points[i][2]); };
    return (at(b) - at(a)).CrossMagnitude(at(c) - at(a)) / 2;
}

bool Mesh::isWatertight() const {
    if (watertight_) return *watertight_;
    std::vector<std::uint64_t> there, back;
    for (const auto& t : triangles)
        for (int i = 0; i < 3; ++i) {
            const std::uint64_t a = t[i], b = t[(i + 1) % 3];
            there.push_back(a << 32 | b);
            back.push_back(b << 32 | a);
        }
    std::sort(there.begin(), there.end());
    std::sort(back.begin(), back.end());
    watertight_ = !there.empty() && there == back && std::adjacent_find(there.begin(), there.end()) == there.end();
    return *watertight_;
}

Mesh meshOf(const TopoDS_Shape& solid, const std::vector<TopoDS_Face>& faces, double chordMm, double angleDeg,
            Deadline& deadline) {
    // A copy keeps its faces in the order of the original.
    const auto inSolid = partMapOf(solid, TopAbs_FACE);
    std::vector<std::uint32_t> numbers(faces.size());
    for (std::uint32_t i = 0; i < faces.size(); ++i)
        numbers[inSolid.FindIndex(faces[i]) - 1] = i;

    IMeshTools_Parameters parameters;
    parameters.Deflection = chordMm;
    parameters.Angle = angleDeg * std::numbers::pi / 180;
    parameters.InParallel = false;
    parameters.AllowQualityDecrease = true;
    const auto make = [&] {
        const TopoDS_Shape copy = BRepBuilderAPI_Copy(solid, false, false).Shape();
        BRepMesh_IncrementalMesh mesher;
        mesher.SetShape(copy);
        mesher.ChangeParameters() = parameters;
        mesher.Perform(deadline.range());
        deadline.check("");
        return Welder(copy, chordMm).weld(numbers);
    };
    // The one takes half the time of the other, which takes over should it leave gaps.
    const auto makeWhole = [&] {
        parameters.MeshAlgo = IMeshTools_MeshAlgoType_Delabella;
        try {
            Mesh mesh = make();
            if (mesh.isWatertight()) return mesh;
        } catch (const Refusal& refusal) {
            if (refusal.kind == "cancelled") throw;
        }
        parameters.MeshAlgo = IMeshTools_MeshAlgoType_Watson;
        return make();
    };
    constexpr int attempts = 4;
    for (int attempt = 1;; ++attempt) {
        Mesh mesh = makeWhole();
        if (mesh.worstChordMm <= chordMm) {
            sortMesh(mesh);
            return mesh;
        }
        if (attempt == attempts) throw Refusal("failed", "the mesh does not come within the chord that was asked for");
        parameters.Deflection /= 2;
        parameters.Angle /= std::numbers::sqrt2;
    }
}
