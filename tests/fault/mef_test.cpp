// The exported text, whole; scram_test.py lets another program read such files.
#include "fault/mef.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <stdexcept>

#include "base/xml_text.hpp"

using namespace lanyard::fault;
using lanyard::base::Identifiers;

TEST_CASE("export: whole text") {
    const std::vector<BasicEvent> events{
        {"kill wire open", 1e-4, {}, {}}, {"K1 welded", {}, 2e-6, {}}, {"oil < 12 psi", {}, 1e-5, 100.0}};
    CHECK(mef_text("stops & stays", events, {{{0, 1}, {2}}, {{2}, {}}}, 1000) ==
          R"(<?xml version="1.0" encoding="UTF-8"?>
<opsa-mef>
  <define-fault-tree name="stops___stays">
    <label>stops &amp; stays</label>
    <define-gate name="top">
      <or>
        <gate name="cut_1"/>
        <gate name="cut_2"/>
      </or>
    </define-gate>
    <define-gate name="cut_1">
      <and>
        <basic-event name="kill_wire_open"/>
        <basic-event name="K1_welded"/>
        <not><basic-event name="oil___12_psi"/></not>
      </and>
    </define-gate>
    <define-gate name="cut_2">
      <basic-event name="oil___12_psi"/>
    </define-gate>
  </define-fault-tree>
  <model-data>
    <define-parameter name="mission_time" unit="hours">
      <float value="1000"/>
    </define-parameter>
    <define-basic-event name="kill_wire_open">
      <label>kill wire open</label>
      <float value="0.0001"/>
    </define-basic-event>
    <define-parameter name="rate_K1_welded" unit="hours-1">
      <float value="2e-06"/>
    </define-parameter>
    <define-basic-event name="K1_welded">
      <label>K1 welded</label>
      <exponential>
        <parameter name="rate_K1_welded"/>
        <parameter name="mission_time"/>
      </exponential>
    </define-basic-event>
    <define-parameter name="rate_oil___12_psi" unit="hours-1">
      <float value="1e-05"/>
    </define-parameter>
    <define-basic-event name="oil___12_psi">
      <label>oil &lt; 12 psi</label>
      <periodic-test>
        <parameter name="rate_oil___12_psi"/>
        <float value="100"/>
        <float value="100"/>
        <parameter name="mission_time"/>
      </periodic-test>
    </define-basic-event>
  </model-data>
</opsa-mef>
)");
}

TEST_CASE("export: no product is false, a product of nothing is true") {
    CHECK(mef_text("t", {}, {}).find("<define-gate name=\"top\">\n      <constant value=\"false\"/>") !=
          std::string::npos);
    const auto sure = mef_text("t", {}, {{}});
    CHECK(sure.find("<define-gate name=\"top\">\n      <gate name=\"cut_1\"/>") != std::string::npos);
    CHECK(sure.find("<define-gate name=\"cut_1\">\n      <constant value=\"true\"/>") != std::string::npos);
}

TEST_CASE("export: what cannot be written is refused") {
    CHECK_THROWS_AS(mef_text("t", {{"a", 0.5, {}, {}}}, {{{1}, {}}}), std::out_of_range);
    CHECK_THROWS_AS(mef_text("t", {{"a", 0.5, {}, {}}}, {{{SIZE_MAX}, {}}}), std::out_of_range);
    CHECK_THROWS_AS(mef_text("t", {{"a", {}, 1e-6, {}}}, {{{0}, {}}}), std::invalid_argument);
    CHECK_THROWS_AS(mef_text("t", {{"a", {}, 1e-6, {}}}, {{{0}, {}}}, -5.0), std::invalid_argument);
    CHECK_THROWS_AS(mef_text("t", {{"a", 1.5, {}, {}}}, {{{0}, {}}}), std::invalid_argument);
}

TEST_CASE("identifiers: letters first, nothing strange, no two alike") {
    Identifiers ids;
    CHECK(ids.fresh("K1") == "K1");
    CHECK(ids.fresh("k1") == "k1_2");
    CHECK(ids.fresh("K1") == "K1_3");
    CHECK(ids.fresh("k1_2") == "k1_2_2");
    CHECK(ids.fresh("30 A fuse") == "x_30_A_fuse");
    CHECK(ids.fresh("_a") == "x__a");
    CHECK(ids.fresh("") == "x_");
    CHECK(ids.fresh("a.b-c") == "a_b_c");
    CHECK(ids.fresh("\xC3\xA4") == "x___");
}
