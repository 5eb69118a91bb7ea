// What stands behind the public model, and what every call begins and ends with.
#pragma once

#include <string>
#include <vector>

#include "lanyard/lanyard.hpp"
#include "model/model.hpp"
#include "prove/driver.hpp"
#include "report/header.hpp"

namespace lanyard::api {

struct Model::Impl {
    lanyard::model::Model model;
    std::vector<Diagnostic> warnings;
    std::string warnings_text;
};
// Shares what the public model does.
inline std::shared_ptr<const lanyard::model::Model> shared_model(const Model& model) {
    return {std::make_shared<Model>(model), &model.impl().model};
}

Versions versions();

// How a call is refused: by what a file says; because it cannot be read; because it names something that does not
// exist.
std::vector<Diagnostic> diagnostics_of(const Diagnostics& all);
Rejected rejected(const Diagnostics& all, const SourceText& source);
Rejected rejected(const std::string& what, const std::string& hint);
Rejected unreadable(const std::filesystem::path& file, const std::string& what = "this file cannot be read",
                    const std::string& hint = "");
Rejected unknown(const std::string& what, const std::string& hint);
// "did you mean ...?", or which ones there are, behind `otherwise`; each between two `quote`.
std::string hint_for(const std::string& word, const std::vector<std::string>& candidates, const std::string& otherwise,
                     const std::string& quote = "\"");

// How far everything that judges may go. `limits` has to outlive the answer.
DriverOptions driver_limits(const Limits& limits);
// The same, with the claims that are wanted, all of them known, or a share of them. All but the share have to outlive
// the answer.
DriverOptions driver_options(const Limits& limits, const std::vector<std::string>& claims, const OnProgress& progress,
                             const std::vector<ClaimInfo>& infos, const std::optional<Share>& share = {});

// In a handler: lanyard's own mistakes leave as the public InternalError, after what is needed to look into them was
// written; everything else goes on as it is.
[[noreturn]] void leave(const Model& model);
template <class F>
auto guarded(const Model& model, const F& f) {
    try {
        return f();
    } catch (...) {
        leave(model);
    }
}

}  // namespace lanyard::api
