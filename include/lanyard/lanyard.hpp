// The public face of lanyard: a model file goes in, verdicts with their reasons come out, as values. No type of a
// solver or of a JSON library appears here. The command line program is built on this and on nothing else.
//
//   auto loaded = lanyard::api::load("car.json");
//   if (const auto* wrong = std::get_if<lanyard::api::Rejected>(&loaded)) {
//       std::cerr << wrong->text;
//       return 1;
//   }
//   auto checked = lanyard::api::check(std::get<lanyard::api::Model>(loaded), {});
//   for (const auto& claim : std::get<lanyard::api::Results>(checked).claims)
//       std::cout << claim.id << ": " << lanyard::api::verdict_word(claim.verdict) << '\n';
//
// A verdict says why. Here is what made the difference in the run against a claim, and what the run would have been
// without it:
//
//   auto model = std::get<lanyard::api::Model>(lanyard::api::load("car.json"));
//   auto results = std::get<lanyard::api::Results>(lanyard::api::check(model, {.claims = {"it starts"}}));
//   const auto& refuted = std::get<lanyard::api::Refuted>(results.claims.at(0).verdict);
//   const lanyard::api::Cause& cause = refuted.causes.list.at(0);
//   for (const auto& part : cause.parts)
//       std::cout << part.what << " at " << part.time_s << " s: if " << part.instead << ", nothing would be broken\n";
//   for (const auto& change : refuted.run->changes())
//       if (const bool* on = std::get_if<bool>(&change.value))
//           std::cout << change.scan << ' ' << change.signal << (*on ? " on\n" : " off\n");
//
// Everything that the user can get wrong comes back as a value: Rejected (call.hpp) with its diagnostics. An exception
// means that lanyard itself is wrong (InternalError) or that the machine ran out of memory (std::bad_alloc); a callback
// may throw what it likes, which ends the call. All of them derive from std::exception.
//
// Calls share no state: any number of them may run at once, also on one model. Memory limits are those of the program.
#pragma once

#include <lanyard/call.hpp>     // Rejected, Diagnostic, Limits, StopSource, InternalError
#include <lanyard/check.hpp>    // check() and its verdicts
#include <lanyard/export.hpp>   // scripts, Horn clauses, graphs, schemas
#include <lanyard/log.hpp>      // start_log(), stop_log()
#include <lanyard/model.hpp>    // load()
#include <lanyard/packs.hpp>    // rule packs
#include <lanyard/parts.hpp>    // one call shared among many machines
#include <lanyard/run.hpp>      // what a signal is at a scan
#include <lanyard/studies.hpp>  // faults, mutants, needs, bench card, why
#include <lanyard/version.hpp>  // LANYARD_VERSION_MAJOR ...
#include <lanyard/write.hpp>    // texts and files of results

namespace lanyard::api {

std::string version();         // "0.1.0"
std::string solver_version();  // "Z3 4.8.12"
// The last line of every report: a pointer to what a verdict does not promise.
std::string closing();

}  // namespace lanyard::api
