// Ids as a failing test shows them.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "base/ids.hpp"

namespace Catch {

template <class Thing>
struct StringMaker<lanyard::Id<Thing>> {
    static std::string convert(const lanyard::Id<Thing>& id) { return id ? "#" + std::to_string(id.index()) : "none"; }
};
template <>
struct StringMaker<lanyard::AnyId> {
    static std::string convert(const lanyard::AnyId& id) { return ::Catch::Detail::stringify(id.to<void>()); }
};

}  // namespace Catch
