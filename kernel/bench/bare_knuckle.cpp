/// The vent knuckle of examples/ by straight calls of the library: no names, no guards, no recipe, nothing kept. What
/// it takes is the least that solid, mesh and STEP can take, for the worker's own time to be set beside.
///
///     bare-knuckle OUT.step foot_t=5 foot_w=20 …     every size of the job, in mm
///
/// Prints the split in milliseconds, then what the solid came to.

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Tool.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

/// Millimetres by name; one that is missing ends the program with its name.
class Sizes {
public:
    Sizes(int count, char** words) {
        for (int i = 0; i < count; ++i) {
            const std::string word = words[i];
            const auto equals = word.find('=');
            mm_[word.substr(0, equals)] = std::stod(word.substr(equals + 1));
        }
    }
    double operator[](const char* name) const {
        const auto found = mm_.find(name);
        if (found == mm_.end()) throw std::runtime_error(std::string("the size ") + name + " is missing");
        return found->second;
    }

private:
    std::map<std::string, double> mm_;
};

TopoDS_Shape obround(double halfPitch, double radius, double thickness) {
    const auto arc = [&](double y, double way) {
        return BRepBuilderAPI_MakeEdge(
                   GC_MakeArcOfCircle({way * radius, y, 0}, gp_Pnt(0, y + way * radius, 0), gp_Pnt(-way * radius, y, 0))
                       .Value())
            .Edge();
    };
    const auto side = [&](double x, double way) {
        return BRepBuilderAPI_MakeEdge(gp_Pnt(x, -way * halfPitch, 0), gp_Pnt(x, way * halfPitch, 0)).Edge();
    };
    BRepBuilderAPI_MakeWire rim(side(radius, 1), arc(halfPitch, 1), side(-radius, -1), arc(-halfPitch, -1));
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(rim.Wire(), true), gp_Vec(0, 0, thickness));
}

/// The half cylinder that ends the lug, about an axis to the back.
TopoDS_Shape halfRound(const gp_Pnt& middle, double radius, double thickness) {
    const double x = middle.X(), y = middle.Y() - thickness / 2, z = middle.Z();
    const gp_Pnt low(x, y, z - radius), far(x + radius, y, z), high(x, y, z + radius);
    BRepBuilderAPI_MakeWire rim(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(low, far, high).Value()),
                                BRepBuilderAPI_MakeEdge(high, low));
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(rim.Wire(), true), gp_Vec(0, thickness, 0));
}

/// A loop of corners in (radius, height), turned about the main direction of a place, radius along its x direction.
TopoDS_Shape turned(const gp_Ax2& place, const std::vector<std::pair<double, double>>& corners) {
    BRepBuilderAPI_MakePolygon loop;
    for (const auto& [radius, height] : corners)
        loop.Add(place.Location().Translated(gp_Vec(place.XDirection()) * radius + gp_Vec(place.Direction()) * height));
    loop.Close();
    return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(loop.Wire(), true), place.Axis());
}

TopoDS_Shape cylinder(const gp_Pnt& start, const gp_Dir& along, double diameter, double height) {
    const double r = diameter / 2;
    return turned(gp_Ax2(start, along, gp::DX()), {{0, 0}, {r, 0}, {r, height}, {0, height}});
}

/// A hole countersunk by 90° down to twice its diameter, from a flat face downward.
TopoDS_Shape screwHole(const gp_Pnt& start, double diameter, double depth) {
    const double r = diameter / 2;
    return turned(gp_Ax2(start, -gp::DZ(), gp::DX()), {{0, 0}, {2 * r, 0}, {r, r}, {r, depth}, {0, depth}});
}

TopoDS_Shape withoutBoth(const TopoDS_Shape& solid, const TopoDS_Shape& first, const TopoDS_Shape& second) {
    BRepAlgoAPI_Cut cut;
    TopTools_ListOfShape arguments, tools;
    arguments.Append(solid);
    tools.Append(first);
    tools.Append(second);
    cut.SetArguments(arguments);
    cut.SetTools(tools);
    cut.Build();
    return cut.Shape();
}

/// Rounds every edge whose middle is picked.
TopoDS_Shape rounded(const TopoDS_Shape& solid, double radius, const std::function<bool(const gp_Pnt&)>& picked) {
    BRepFilletAPI_MakeFillet maker(solid);
    maker.SetParams(1e-2, 1e-5, 1e-5, 1e-5, 1e-6, 1e-3); // as closely as the worker has it: the same faces
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(solid, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge edge = TopoDS::Edge(edges(i));
        if (BRep_Tool::Degenerated(edge)) continue;
        const BRepAdaptor_Curve curve(edge);
        if (picked(curve.Value((curve.FirstParameter() + curve.LastParameter()) / 2))) maker.Add(radius, edge);
    }
    return maker.Shape();
}

TopoDS_Shape knuckle(const Sizes& size) {
    constexpr double same = 1e-6;
    const double footT = size["foot_t"], halfPitch = size["screw_pitch"] / 2, socketR = size["socket_od"] / 2;
    const double top = footT + size["socket_len"], half = size["lug_t"] / 2, wide = size["lug_w"];
    const double reach = size["lug_reach"], pinZ = top - wide / 2;

    TopoDS_Shape solid = obround(halfPitch, size["foot_w"] / 2, footT);
    solid = BRepAlgoAPI_Fuse(solid, cylinder({0, 0, footT}, gp::DZ(), size["socket_od"], top - footT));
    solid = BRepAlgoAPI_Fuse(solid, BRepPrimAPI_MakeBox(gp_Pnt(0, -half, top - wide), reach, 2 * half, wide));
    solid = BRepAlgoAPI_Fuse(solid, halfRound({reach, 0, pinZ}, wide / 2, 2 * half));
    // The lug lies flush with the socket's end and with its own; rounds need these faces whole.
    ShapeUpgrade_UnifySameDomain merged(solid);
    merged.Build();
    solid = rounded(merged.Shape(), size["edge_r"], [&](const gp_Pnt& middle) {
        return std::abs(std::abs(middle.Y()) - half) < same && middle.X() > socketR + same && middle.Z() > footT;
    });
    solid = BRepAlgoAPI_Cut(solid, cylinder({0, 0, top}, -gp::DZ(), size["bore_d"], size["seat"]));
    solid = BRepAlgoAPI_Cut(solid, cylinder({reach, -half, pinZ}, gp::DY(), size["pin_d"], 2 * half));
    solid = withoutBoth(solid, screwHole({0, -halfPitch, footT}, size["screw_d"], footT),
                        screwHole({0, halfPitch, footT}, size["screw_d"], footT));
    // The round of the lug's edges carries the fillet on from the front, below and above, to the back.
    return rounded(solid, 1.5, [&](const gp_Pnt& middle) {
        return std::abs(middle.Y() + half) < same && std::abs(std::hypot(middle.X(), half) - socketR) < same &&
               middle.X() > 0 && middle.Z() > footT + same && middle.Z() < top - same;
    });
}

int trianglesOf(const TopoDS_Shape& solid) {
    int count = 0;
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(solid, TopAbs_FACE, faces);
    for (int i = 1; i <= faces.Extent(); ++i) {
        TopLoc_Location location;
        count += BRep_Tool::Triangulation(TopoDS::Face(faces(i)), location)->NbTriangles();
    }
    return count;
}

/// Does some work and prints how long it took, by the clock and of the processor.
template <class Work> void timed(const char* what, Work&& work) {
    const auto start = std::chrono::steady_clock::now();
    const std::clock_t busy = std::clock();
    work();
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    std::printf("%sMs %.3f\n%sProcessorMs %.3f\n", what, took.count(), what,
                1000.0 * (std::clock() - busy) / CLOCKS_PER_SEC);
}

} // namespace

int main(int count, char** words) try {
    Message::DefaultMessenger()->ChangePrinters().Clear(); // it would speak on standard output
    if (count < 3) throw std::runtime_error("bare-knuckle OUT.step SIZE=MM …");
    const Sizes sizes(count - 2, words + 2);
    TopoDS_Shape solid;
    timed("solid", [&] { solid = knuckle(sizes); });
    // The mesh of the main job's files.
    timed("mesh", [&] { BRepMesh_IncrementalMesh(solid, 0.01, false, 4.4 * std::numbers::pi / 180, false); });
    timed("step", [&] {
        STEPControl_Controller::Init();
        Interface_Static::SetCVal("write.step.schema", "AP242DIS");
        STEPControl_Writer writer;
        writer.Transfer(solid, STEPControl_AsIs);
        if (writer.Write(words[1]) != IFSelect_RetDone) throw std::runtime_error("the STEP file was not written");
    });
    GProp_GProps inside;
    // Out of the timing, and more closely than by default, which on the rounds is 3e-7 of the volume off.
    constexpr double closely = 1e-11;
    BRepGProp::VolumeProperties(solid, inside, closely);
    std::printf("volumeMm3 %.15g\ntriangles %d\n", inside.Mass(), trianglesOf(solid));
    return 0;
} catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
} catch (const Standard_Failure& e) {
    std::fprintf(stderr, "%s\n", e.GetMessageString());
    return 1;
}
