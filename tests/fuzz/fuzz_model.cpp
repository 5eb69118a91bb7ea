// Whatever the bytes are: the reader ends with a model or with at least one error, and never with half of either.
#include <cstdint>
#include <cstdlib>
#include <string>

#include "model/read.hpp"
#include "sim/interpreter.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text(reinterpret_cast<const char*>(data), size);
    const lanyard::model::ReadResult r = lanyard::model::read_model("fuzz.json", text);
    if (r.model.has_value() == r.diagnostics.has_errors()) std::abort();
    render(r.diagnostics, r.source);
    // What was accepted can be played.
    if (r.model)
        lanyard::sim::Interpreter(*r.model, lanyard::model::any_condition,
                                  r.model->claims.empty() ? lanyard::model::ClaimId() : lanyard::model::ClaimId(0));
    return 0;
}
