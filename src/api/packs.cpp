#include "api/packs.hpp"

#include <algorithm>

#include "api/impl.hpp"
#include "base/file.hpp"
#include "base/suggest.hpp"

namespace lanyard::api {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t largest_pack = std::size_t{65} << 20U;  // the reader says more about what is a little too large

bool is_path(const std::string& name) {
    return name.find('/') != std::string::npos || name.ends_with(".json") || name.find_first_not_of('.') == name.npos;
}

std::variant<PackPtr, Rejected> accepted(const PackResult& r) {
    if (r.pack == nullptr) return rejected(r.diagnostics, r.source);
    return r.pack;
}

std::variant<PackPtr, Rejected> pack_of_file(const std::string& name) {
    fs::path file = name;
    std::error_code error;
    if (fs::is_directory(file, error)) file /= "pack.json";
    const auto text = read_file(file, largest_pack);
    if (!text)
        return unreadable(file, "this rule pack cannot be read", "a pack is a folder with a file pack.json in it");
    const std::string id = fs::absolute(file, error).lexically_normal().parent_path().filename().string();
    return accepted(read_pack(id, file.string(), *text));
}

Rejected unknown_pack(const std::string& name) {
    const std::vector<std::string> ids = shipped_packs();
    std::string list;
    for (const auto& id : ids) list += (list.empty() ? "" : ", ") + id;
    const auto near = lanyard::base::nearest(name, ids);
    return unknown("there is no rule pack \"" + name + "\"",
                   (near ? "did you mean \"" + *near + "\"?" : "there are: " + list) +
                       "\n  name your own pack by its folder: --rules ./my-rules");
}

std::string written(const json::Value& v) {
    if (v.kind == json::Kind::flag) return v.flag ? "true" : "false";
    std::string text = v.text;
    for (const auto& i : v.items) text += (text.empty() ? "" : "; ") + written(i);
    return text;
}

PackClaim claim_row(const RuleClaim& c) {
    PackClaim out{c.name, {}};
    for (const auto& m : c.value->members) out.keys.emplace_back(m.key, written(m.value));
    return out;
}

PackRule rule_row(const lanyard::model::PackRule& r) {
    PackRule out{r.id, r.requirement, r.citation, r.text_read, r.roles, {}, {}, r.advice, r.needs, r.conflicts};
    for (const auto& p : r.parameters) out.parameters.push_back({p.name, p.value, p.meaning});
    for (const auto& c : r.claims) out.claims.push_back(claim_row(c));
    return out;
}

}  // namespace

std::vector<std::string> shipped_packs() {
    std::vector<std::string> ids;
    for (const auto& p : lanyard::model::shipped_packs())
        if (p.pack != nullptr) ids.push_back(p.pack->id);
    return ids;
}

std::variant<Pack, Rejected> load_pack(const std::string& name) {
    const auto found = find_pack(name);
    if (const auto* rejected = std::get_if<Rejected>(&found)) return *rejected;
    const lanyard::model::Pack& p = *std::get<PackPtr>(found);
    Pack out{p.id, p.title, p.publisher, p.edition, p.text_read, p.scope, p.sha256, {}, {}, {}};
    for (const auto& r : p.roles) out.roles.push_back({r.name, r.kind, r.meaning, r.dimension});
    for (const auto& r : p.rules) out.rules.push_back(rule_row(r));
    for (const auto& i : p.inspect) out.inspect.push_back({i.name, i.what, i.citation});
    return out;
}

std::string text_read_words(const std::string& mark) { return lanyard::model::text_read_words(mark); }

std::variant<PackPtr, Rejected> find_pack(const std::string& name) {
    if (is_path(name)) return pack_of_file(name);
    for (const auto& p : lanyard::model::shipped_packs())
        if (p.source.name() == "rules/" + name + "/pack.json") return accepted(p);
    return unknown_pack(name);
}

std::variant<std::vector<PackPtr>, Rejected> find_packs(const std::vector<std::string>& names) {
    std::vector<PackPtr> all;
    for (const auto& name : names) {
        auto found = find_pack(name);
        if (auto* rejected = std::get_if<Rejected>(&found)) return std::move(*rejected);
        auto& pack = std::get<PackPtr>(found);
        const bool twice = std::any_of(all.begin(), all.end(), [&](const auto& p) { return p->id == pack->id; });
        if (twice) return unknown("the rule pack \"" + pack->id + "\" is chosen twice", "");
        all.push_back(std::move(pack));
    }
    return all;
}

}  // namespace lanyard::api
