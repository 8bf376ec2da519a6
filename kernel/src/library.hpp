#pragma once

#include "refusal.hpp"

#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>
#include <new>
#include <string>

/// Asks the geometry library for something that it may fail at, and turns its exceptions into refusals.
template <class Ask> auto askLibrary(const std::string& feature, const std::string& why, Ask&& ask) {
    try {
        return ask();
    } catch (const Standard_OutOfMemory&) {
        throw;
    } catch (const Standard_Failure& failure) {
        const char* said = failure.GetMessageString();
        throw Refusal("failed", said && *said ? why + " (" + said + ")" : why, feature);
    }
}
