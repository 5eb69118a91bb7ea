// Ids as a failing test shows them.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "base/ids.hpp"

namespace Catch {

template <class Thing>
struct StringMaker<lanyard::base::Id<Thing>> {
    static std::string convert(const lanyard::base::Id<Thing>& id) {
        return id ? "#" + std::to_string(id.index()) : "none";
    }
};
template <>
struct StringMaker<lanyard::base::AnyId> {
    static std::string convert(const lanyard::base::AnyId& id) { return ::Catch::Detail::stringify(id.to<void>()); }
};

}  // namespace Catch
