#include "api/kept.hpp"

#include "api/impl.hpp"
#include "base/file.hpp"
#include "model/json.hpp"
#include "report/json_values.hpp"
#include "sim/run_file.hpp"

namespace lanyard::api {

namespace {

using Json = nlohmann::ordered_json;

// The hash is over the answers as they are written.
std::string seal_of(const Json& head, const Json& answers) { return sha256_hex(head.dump() + answers.dump()); }

Json head_of(const lanyard::Model& m) {
    Json head = {{"lanyard_kept", 1}};
    head.update(report::head_json(m, versions()));
    return head;
}

struct Content {
    Json head, answers;
};

// What stands in the file; nothing, and what is wrong where, if it is none that was written here.
std::optional<Content> content_of(const SourceText& source, Diagnostics& out) {
    json::Limits limits;
    limits.values = 20'000'000;
    const auto tree = json::parse(source, limits, out);
    if (!tree || out.has_errors()) return std::nullopt;
    const auto refuse = [&](std::size_t offset, std::size_t length, const std::string& what, const std::string& hint) {
        out.add({"kept-form", Severity::error, "", source.place_of(offset, std::max<std::size_t>(length, 1)), what,
                 "it is left as it is", hint});
        return std::nullopt;
    };
    const json::Member* mark = tree->find("lanyard_kept");
    if (mark == nullptr || mark->value.text != "1")
        return refuse(tree->offset, tree->length, "--keep did not write this file", "give --keep a file of its own");
    Content found{Json::parse(source.text(), nullptr, false), {}};
    const json::Member* seal = tree->find("seal");
    const bool whole = seal != nullptr && found.head.contains("answers");
    if (whole) found.answers = std::move(found.head["answers"]);
    found.head.erase("seal");
    found.head.erase("answers");
    if (whole && seal->value.text == seal_of(found.head, found.answers)) return found;
    return refuse(seal == nullptr ? tree->offset : seal->value.offset, seal == nullptr ? 1 : seal->value.length,
                  "this file was changed since it was written", "delete it: what stood in it is found again");
}

Json to_json(const lanyard::Model& m, const KnownAnswer& known) {
    Json out = {{"engine", known.engine}};
    if (const auto* hit = std::get_if<Hit>(&known.answer)) out["run"] = report::run_to_json(m, hit->run);
    if (const auto* open = std::get_if<Open>(&known.answer))
        out["open"] = {{"reason", open->reason}, {"depth", open->depth}};
    if (const auto* none = std::get_if<NoHit>(&known.answer)) {
        const Certificate& c = none->certificate;
        Json certificate = report::certificate_to_json(c);
        certificate["wide"] = c.wide;
        certificate["leaps"] = c.leaps;
        certificate["tangents"] = Json::array();
        for (const auto& t : c.tangents)
            certificate["tangents"].push_back({{"product", t.product}, {"u", t.u.get_str()}, {"v", t.v.get_str()}});
        out["certificate"] = certificate;
    }
    return out;
}

Certificate certificate_from(const Json& j) {
    Certificate c;
    j.at("lemmas").get_to(c.lemmas);
    j.at("induction").get_to(c.induction);
    j.at("assumptions").get_to(c.assumptions);
    j.at("elements").get_to(c.elements);
    j.at("unused_elements").get_to(c.unused_elements);
    j.at("wide").get_to(c.wide);
    j.at("leaps").get_to(c.leaps);
    for (const auto& t : j.at("tangents"))
        c.tangents.push_back({t.at("product").get<std::string>(), Rational(t.at("u").get<std::string>()),
                              Rational(t.at("v").get<std::string>())});
    return c;
}

std::optional<KnownAnswer> from_json(const lanyard::Model& m, const Json& j) {
    KnownAnswer out;
    j.at("engine").get_to(out.engine);
    if (j.contains("open")) {
        out.answer = Open{j["open"].at("reason").get<std::string>(), j["open"].at("depth").get<std::size_t>()};
    } else if (j.contains("certificate")) {
        out.answer = NoHit{certificate_from(j["certificate"])};
    } else {
        const auto run = read_segments(m, j.at("run").dump());
        if (!run) return std::nullopt;
        out.answer = Hit{*run};
    }
    return out;
}

}  // namespace

std::variant<std::unique_ptr<Kept>, Rejected> Kept::open(const std::filesystem::path& file, const lanyard::Model& m) {
    std::unique_ptr<Kept> out(new Kept(file));
    out->head_ = head_of(m);
    std::error_code error;
    if (!std::filesystem::exists(file, error)) return out;
    const auto text = read_file(file, std::size_t{256} << 20U);
    if (!text) return Rejected{file.string() + ": error: this file cannot be read\n", true};
    const SourceText source(file.string(), *text);
    Diagnostics diagnostics;
    const auto found = content_of(source, diagnostics);
    if (!found) return Rejected{render(diagnostics, source), false};
    if (found->head == out->head_)
        for (const auto& [key, answer] : found->answers.items()) out->answers_.emplace(key, answer);
    return out;
}

std::optional<KnownAnswer> Kept::look_up(const std::string& key, const lanyard::Model& m) {
    Json found;
    {
        const std::scoped_lock lock(mutex_);
        const auto at = answers_.find(key);
        if (at == answers_.end()) return std::nullopt;
        found = at->second;
    }
    try {
        return from_json(m, found);
    } catch (const Json::exception&) {
        return std::nullopt;
    }
}

void Kept::keep(const std::string& key, const lanyard::Model& m, const KnownAnswer& answer) {
    Json text = to_json(m, answer);
    const std::scoped_lock lock(mutex_);
    answers_.insert_or_assign(key, std::move(text));
}

std::string Kept::write() const {
    const std::scoped_lock lock(mutex_);
    const Json answers(answers_);
    Json out = head_;
    out["seal"] = seal_of(head_, answers);
    out["answers"] = answers;
    return write_file(file_, out.dump(1) + '\n');
}

}  // namespace lanyard::api
