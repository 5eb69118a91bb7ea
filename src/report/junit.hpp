// Verdicts as a JUnit report, for build servers: a test suite a model, a test case a claim, and one a rule of the
// chosen packs that was not judged. There is no standard; this is the part that the usual readers share: the schema
// junit-10.xsd of the Jenkins xUnit plugin, which is that of Maven Surefire.
//
//   refuted, vacuous   <failure>  the claim does not hold, or cannot fail and so says nothing
//   undecided          <error>    it was not found out
//   rule not judged    <skipped>  it does not apply, and why
//
// No times and no host: the same results are the same bytes.
#pragma once

#include <string>

#include "report/filmed.hpp"
#include "report/header.hpp"

namespace lanyard::report {

std::string junit_xml(const Model& model, const FilmedResults& results, const Versions& versions);

}  // namespace lanyard::report
