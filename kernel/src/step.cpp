#include "step.hpp"

#include "library.hpp"

#include <APIHeaderSection_MakeHeader.hxx>
#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <STEPControl_Writer.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>

namespace {

Handle(TCollection_HAsciiString) handed(const std::string& text) {
    return new TCollection_HAsciiString(text.c_str());
}

/// The writer numbers the products of a process; the same solid is to give the same file.
void nameProduct(const StepData_StepModel& model, const std::string& name) {
    for (int i = 1; i <= model.NbEntities(); ++i)
        if (const auto product = Handle(StepBasic_Product)::DownCast(model.Value(i)); !product.IsNull()) {
            product->SetId(handed(name));
            product->SetName(handed(name));
        }
}

} // namespace

void writeStep(const TopoDS_Shape& solid, const std::string& path, const StepHead& head) {
    STEPControl_Controller::Init();
    Interface_Static::SetCVal("write.step.schema", head.schema == "AP214" ? "AP214IS" : "AP242DIS");
    Interface_Static::SetCVal("write.step.unit", "MM");
    Interface_Static::SetIVal("write.precision.mode", 1); // the largest tolerance there is

    STEPControl_Writer writer;
    const bool isHandedOver = askLibrary("", "the solid could not be put into STEP",
                                         [&] { return writer.Transfer(solid, STEPControl_AsIs) == IFSelect_RetDone; });
    if (!isHandedOver) throw Refusal("failed", "the solid could not be put into STEP");

    nameProduct(*writer.Model(), head.partName);
    APIHeaderSection_MakeHeader header(writer.Model());
    header.SetName(handed(head.partName));
    header.SetTimeStamp(handed(head.writtenAt));
    header.SetAuthorValue(1, handed(""));
    header.SetOrganizationValue(1, handed(""));
    header.SetOriginatingSystem(handed("Sparewright"));
    header.SetAuthorisation(handed(""));
    header.SetDescriptionValue(1, handed(head.partName));
    if (writer.Write(path.c_str()) != IFSelect_RetDone)
        throw Refusal("failed", "the file " + path + " could not be written");
}

TopoDS_Shape readStep(const std::string& path) {
    STEPControl_Reader reader;
    Interface_Static::SetCVal("xstep.cascade.unit", "MM");
    if (reader.ReadFile(path.c_str()) != IFSelect_RetDone)
        throw Refusal("failed", "the file " + path + " could not be read as STEP");
    reader.TransferRoots();
    if (reader.NbShapes() == 0) throw Refusal("failed", "the file " + path + " holds no shape");
    return reader.OneShape();
}
