// bench_times MODEL [CLAIM]: where the time of a check goes, a line a claim: finding, minimising, re-checking and
// replaying, in seconds.
#include <iostream>
#include <variant>

#include "lanyard/lanyard.hpp"

int main(int argc, char** argv) {
    using namespace lanyard;
    if (argc < 2) return 1;
    const auto loaded = api::load(argv[1]);
    const auto* model = std::get_if<api::Model>(&loaded);
    if (model == nullptr) return 2;
    api::CheckOptions options;
    options.limits.jobs = 1;
    if (argc > 2) options.claims = {argv[2]};
    const auto checked = api::check(*model, options);
    const auto* results = std::get_if<api::Results>(&checked);
    if (results == nullptr) return 3;
    for (const auto& claim : results->claims) {
        const api::Timing& t = claim.timing;
        std::cout << t.finding << ' ' << t.minimising << ' ' << t.rechecking << ' ' << t.replaying << '\n';
    }
}
