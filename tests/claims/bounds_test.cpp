// What is counted in scans, by hand from the meaning.
#include "claims/bounds.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::claims;

namespace {

Response response(const Rational& seconds) {
    Response r;
    r.within = seconds;
    return r;
}

const Rational p(1, 100);

}  // namespace

TEST_CASE("response: the bound in scans") {
    // Check values of the meaning, P = 10 ms: max(1, floor((d + t) / P) - 1).
    CHECK(response_bound(response(Rational(1200, 1000)), p) == 119);
    CHECK(response_bound(response(Rational(1205, 1000)), p) == 119);
    CHECK(response_bound(response(Rational(25, 1000)), p) == 1);
    CHECK(response_bound(response(Rational(19, 1000)), p) == 1);
    CHECK(!response_is_too_fast(response(Rational(20, 1000)), p));
    CHECK(response_is_too_fast(response(Rational(19, 1000)), p));
}

TEST_CASE("response once begun: delays and periods that are no multiples of one another") {
    Response r = response(Rational(0));
    r.for_time = Rational(35, 1000);
    CHECK(response_calls(r, p) == 3);
    r.for_time = Rational(5, 1000);
    CHECK(response_calls(r, p) == 1);
}

TEST_CASE("change limit: scans of a window, both ends included") {
    ChangeLimit l;
    l.in_any = Rational(1);
    CHECK(change_window(l, p) == 101);
    l.in_any = Rational(995, 1000);
    CHECK(change_window(l, p) == 100);
}
