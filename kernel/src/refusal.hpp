#pragma once

#include <exception>
#include <string>
#include <utility>

/// Why a request was not done, in words for the person who wrote the part. Thrown anywhere, answered in one place.
struct Refusal : std::exception {
    std::string kind;              ///< request | refused | failed | wrong | cancelled | memory | missing
    std::string why;               ///< one sentence
    std::string feature;           ///< the feature it happened in; empty when there is none
    std::string advice;            ///< what would help; empty when nothing is known
    bool mayDependOnOrder = false; ///< whether another order of the features may help

    Refusal(std::string kind, std::string why, std::string feature = {}, std::string advice = {})
        : kind(std::move(kind)), why(std::move(why)), feature(std::move(feature)), advice(std::move(advice)) {}

    const char* what() const noexcept override { return why.c_str(); }
};
