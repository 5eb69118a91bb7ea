#include "api/kept.hpp"

#include "api/impl.hpp"
#include "base/file.hpp"
#include "model/json.hpp"
#include "report/json_values.hpp"

namespace lanyard::api {

namespace {

using Json = nlohmann::ordered_json;

// The hash is over the answers as they are written.
std::string seal_of(const Json& head, const Json& answers) { return sha256_hex(head.dump() + answers.dump()); }

Json head_of(const lanyard::model::Model& m) {
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
        return refuse(tree->offset, tree->length, "--keep did not write this file", "give --keep its own file");
    Content found{Json::parse(source.text(), nullptr, false), {}};
    const json::Member* seal = tree->find("seal");
    const bool whole = seal != nullptr && found.head.contains("answers");
    if (whole) found.answers = std::move(found.head["answers"]);
    found.head.erase("seal");
    found.head.erase("answers");
    if (whole && seal->value.text == seal_of(found.head, found.answers)) return found;
    return refuse(seal == nullptr ? tree->offset : seal->value.offset, seal == nullptr ? 1 : seal->value.length,
                  "this file was changed since it was written", "delete it: its results will be found again");
}

Json to_json(const KnownAnswer& known) {
    Json out = {{"engine", known.prover}};
    if (const auto* reached = std::get_if<Reached>(&known.finding)) {
        out["depth"] = reached->depth;
        return out;
    }
    const lanyard::claims::Certificate& c = std::get<InvariantFound>(known.finding).certificate;
    Json tangents = Json::array();
    for (const auto& t : c.tangents)
        tangents.push_back({{"product", t.product}, {"u", exact_text(t.u)}, {"v", exact_text(t.v)}});
    out["certificate"] = {{"induction", c.induction},
                          {"lemmas", c.lemmas},
                          {"wide", c.with_binding_quantities},
                          {"tangents", std::move(tangents)}};
    return out;
}

// Reads what to_json wrote. Whatever is missing, too much, of another kind or out of range makes it no answer.
class AnswerReader {
 public:
    explicit AnswerReader(const Json& j) : whole_(j) {}

    std::optional<KnownAnswer> read() {
        KnownAnswer out;
        out.prover = text(whole_, "engine");
        if (whole_.is_object() && whole_.contains("depth")) {
            has_only(whole_, 2);
            out.finding = Reached{static_cast<std::size_t>(number(whole_, "depth"))};
        } else {
            has_only(whole_, 2);
            out.finding = InvariantFound{certificate(member(whole_, "certificate"))};
        }
        if (!fine_ || !can_be_kept(out)) return std::nullopt;
        return out;
    }

 private:
    static constexpr std::int64_t max_number = 1'000'000;

    void has_only(const Json& j, std::size_t members) { fine_ = fine_ && j.is_object() && j.size() == members; }
    const Json& member(const Json& j, const char* key) {
        static const Json nothing;
        const bool there = j.is_object() && j.contains(key);
        fine_ = fine_ && there;
        return there ? j.at(key) : nothing;
    }
    std::string text(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_string();
        return found.is_string() ? found.get<std::string>() : "";
    }
    std::int64_t number(const Json& j, const char* key) {
        const Json& found = member(j, key);
        const bool good = found.is_number_unsigned() && found.get<std::uint64_t>() <= max_number;
        fine_ = fine_ && good;
        return good ? found.get<std::int64_t>() : 0;
    }
    bool flag(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_boolean();
        return found.is_boolean() && found.get<bool>();
    }
    const Json& list(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_array();
        return found;
    }
    // As exact_text writes it.
    Rational fraction(const Json& j, const char* key) {
        constexpr std::size_t max_length = 200;
        const std::string written = text(j, key);
        std::optional<Rational> value;
        if (written.size() <= max_length) value = parse_fraction(written);
        fine_ = fine_ && value && exact_text(*value) == written;
        return value.value_or(0);
    }
    lanyard::claims::Certificate certificate(const Json& j) {
        lanyard::claims::Certificate c;
        has_only(j, 4);
        c.induction = static_cast<int>(number(j, "induction"));
        c.with_binding_quantities = flag(j, "wide");
        for (const Json& lemma : list(j, "lemmas")) {
            fine_ = fine_ && lemma.is_string();
            if (fine_) c.lemmas.push_back(lemma.get<std::string>());
        }
        for (const Json& t : list(j, "tangents")) {
            has_only(t, 3);
            c.tangents.push_back({text(t, "product"), fraction(t, "u"), fraction(t, "v")});
        }
        return c;
    }

    const Json& whole_;
    bool fine_ = true;
};

}  // namespace

std::variant<std::unique_ptr<Kept>, Rejected> Kept::open(const std::filesystem::path& file,
                                                         const lanyard::model::Model& m) {
    std::unique_ptr<Kept> out(new Kept(file));
    out->head_ = head_of(m);
    std::error_code error;
    if (!std::filesystem::exists(file, error)) return out;
    if (!std::filesystem::is_regular_file(file, error)) return unreadable(file, "results cannot be kept in this file");
    const auto text = read_file(file, std::size_t{256} << 20U);
    if (!text) return unreadable(file);
    const SourceText source(file.string(), *text);
    Diagnostics diagnostics;
    const auto found = content_of(source, diagnostics);
    if (!found) return rejected(diagnostics, source);
    if (found->head == out->head_)
        for (const auto& [key, answer] : found->answers.items()) out->answers_.emplace(key, answer);
    return out;
}

std::optional<KnownAnswer> Kept::look_up(const std::string& key) {
    Json found;
    {
        const std::scoped_lock lock(mutex_);
        const auto at = answers_.find(key);
        if (at == answers_.end()) return std::nullopt;
        found = at->second;
    }
    auto answer = AnswerReader(found).read();
    if (!answer) drop(key);
    return answer;
}

void Kept::keep(const std::string& key, const KnownAnswer& answer) {
    if (!can_be_kept(answer)) return;
    Json text = to_json(answer);
    const std::scoped_lock lock(mutex_);
    answers_.insert_or_assign(key, std::move(text));
}

void Kept::drop(const std::string& key) {
    const std::scoped_lock lock(mutex_);
    answers_.erase(key);
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
