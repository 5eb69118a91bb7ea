#include "api/parts.hpp"

#include <algorithm>
#include <map>

#include "api/impl.hpp"
#include "base/characters.hpp"
#include "base/file.hpp"
#include "model/packs.hpp"
#include "report/json_values.hpp"

namespace lanyard::api {

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr const char* part_code = "part-form";
constexpr SealedForm part_form{"lanyard_part", part_code, "--shard did not write this file",
                               "lanyard merge takes the files that --part named", "make this part anew"};
constexpr unsigned max_shares = 100'000;

// Where names that the call was given are to be found, as seen from the part.
std::string way_back(const fs::path& part) {
    std::error_code error;
    const fs::path here = fs::current_path(error);
    const fs::path folder = fs::weakly_canonical(fs::absolute(part, error), error).parent_path();
    return here.lexically_relative(folder).generic_string();
}

Json packs_of(const lanyard::model::Model& m) {
    Json out = Json::array();
    for (const auto& pack : m.packs) out.push_back({{"id", pack->id}, {"sha256", pack->sha256}});
    return out;
}

Json part_head(const lanyard::model::Model& m, const Share& share) {
    Json head = {{"lanyard_part", 1}};
    head.update(report::head_json(m, versions()));
    head["packs"] = packs_of(m);
    head["asked"] = share.asked;
    head["file"] = m.source.name();
    head["folder"] = way_back(share.part);
    head["share"] = share.number;
    head["shares"] = share.of;
    head["interrupted"] = false;
    return head;
}

std::string share_words(unsigned number, unsigned of) {
    return "part " + std::to_string(number) + " of " + std::to_string(of);
}

// One file that was given, as far as it can be read.
class PartFile {
 public:
    explicit PartFile(const fs::path& path) : source_(path.string(), "") {
        const auto text = read_file(path, largest_sealed);
        if (!text) {
            unreadable_ = unreadable(path);
            return;
        }
        source_ = SourceText(path.string(), *text);
        content_ = sealed_content(source_, part_form, problems_);
        if (content_ && !read_head()) {
            complain({}, "this is not the head of a part", "", "make this part anew");
            content_.reset();
        }
    }

    bool is_read() const { return content_.has_value(); }
    const std::string& name() const { return source_.name(); }
    const Json& operator[](const char* key) const { return content_->head.at(key); }
    const Json& answers() const { return content_->answers; }
    unsigned number() const { return number_; }
    unsigned of() const { return of_; }
    bool is_wrong() const { return unreadable_ || problems_.has_errors(); }

    // At the value of a member of the head; without a key, at the beginning.
    void complain(const std::string& key, const std::string& what, const std::string& why, const std::string& hint,
                  const char* code = part_code) {
        const lanyard::model::json::Value* at = &content_->tree;
        if (const auto* member = key.empty() ? nullptr : at->find(key)) at = &member->value;
        problems_.add({code, Severity::error, key.empty() ? "" : "/" + key,
                       source_.place_of(at->offset, std::max<std::size_t>(at->length, 1)), what, why, hint});
    }
    // Adds what is wrong with it.
    void tell(Rejected& out) {
        if (!is_wrong()) return;
        if (!out.text.empty()) out.text += '\n';
        if (unreadable_) {
            out.text += unreadable_->text;
            out.diagnostics.insert(out.diagnostics.end(), unreadable_->diagnostics.begin(),
                                   unreadable_->diagnostics.end());
            return;
        }
        out.because = Rejected::Because::content;
        problems_.sort_by_place();
        for (auto& d : diagnostics_of(problems_)) out.diagnostics.push_back(std::move(d));
        out.text += render(problems_, source_);
    }

 private:
    SourceText source_;
    Diagnostics problems_;
    std::optional<Rejected> unreadable_;
    std::optional<SealedContent> content_;
    unsigned number_ = 0, of_ = 0;

    bool has(const char* key, bool (Json::*is)() const noexcept) const {
        const Json& head = content_->head;
        return head.contains(key) && (head.at(key).*is)();
    }
    std::optional<unsigned> count(const char* key) const {
        if (!has(key, &Json::is_number_unsigned)) return std::nullopt;
        const auto n = content_->head.at(key).get<std::uint64_t>();
        return n >= 1 && n <= max_shares ? std::optional(static_cast<unsigned>(n)) : std::nullopt;
    }
    bool read_head() {
        const bool members =
            has("model", &Json::is_object) && has("lanyard", &Json::is_string) && has("solver", &Json::is_string) &&
            has("packs", &Json::is_array) && has("asked", &Json::is_array) && has("file", &Json::is_string) &&
            has("folder", &Json::is_string) && has("interrupted", &Json::is_boolean) && content_->answers.is_object();
        const auto number = count("share"), of = count("shares");
        if (!members || !number || !of || *number > *of) return false;
        number_ = *number;
        of_ = *of;
        const Json &model = content_->head.at("model"), &asked = content_->head.at("asked");
        return model.contains("sha256") && model.at("sha256").is_string() &&
               std::all_of(asked.begin(), asked.end(), [](const Json& word) { return word.is_string(); });
    }
};

struct Difference {
    const char *key, *what, *hint;
};
constexpr Difference differences[] = {
    {"model", "this part is of another model", "merge the parts of one model file at a time"},
    {"packs", "this part was made with other rule packs", "make all parts with the same rule packs"},
    {"asked", "this part was made with other options", "give each share the same options"},
    {"shares", "this part is one of another number of parts", "make all parts with the same N of --shard I/N"},
};

// All that was given, compared: each with this program, and with the first that can be read.
class Comparison {
 public:
    explicit Comparison(const std::vector<fs::path>& files) {
        for (const auto& file : files) parts_.emplace_back(file);
    }

    std::variant<Parts, Rejected> result() {
        for (PartFile& part : parts_)
            if (part.is_read()) compare(part);
        if (first_ != nullptr && !any_wrong()) find_missing();
        if (first_ != nullptr && !any_wrong()) find_model();
        if (any_wrong() || first_ == nullptr) return refusal();
        return std::move(out_);
    }
    std::vector<PartFile>& parts() { return parts_; }

 private:
    std::vector<PartFile> parts_;
    PartFile* first_ = nullptr;
    std::map<unsigned, const PartFile*> shares_;
    Parts out_;

    bool any_wrong() const {
        return std::any_of(parts_.begin(), parts_.end(), [](const PartFile& p) { return p.is_wrong(); });
    }

    void compare(PartFile& part) {
        const Versions ours = versions();
        if (part["lanyard"] != ours.lanyard || part["solver"] != ours.solver)
            return part.complain("lanyard",
                                 "this part was written by lanyard " + part["lanyard"].get<std::string>() + " with " +
                                     part["solver"].get<std::string>() + ", and this is lanyard " + ours.lanyard +
                                     " with " + ours.solver,
                                 "versions may search differently", "use one version for all parts and for merge",
                                 "part-version");
        if (first_ == nullptr) first_ = &part;
        for (const Difference& d : differences)
            if (part[d.key] != (*first_)[d.key])
                part.complain(d.key, std::string(d.what) + " than " + first_->name(),
                              "parts are merged only with parts of the same call", d.hint, "part-other");
        const auto [at, is_new] = shares_.emplace(part.number(), &part);
        if (!is_new)
            part.complain("share", share_words(part.number(), part.of()) + " is in " + at->second->name() + " too",
                          "which of the two belongs to the others is unknown", "leave one of them out", "part-twice");
        if (part["interrupted"])
            out_.warnings.push_back(share_words(part.number(), part.of()) + ", " + part.name() +
                                    ", was interrupted: what it lacks is searched for now");
    }

    void find_missing() {
        constexpr std::size_t max_named = 20;
        std::vector<unsigned> missing;
        for (unsigned n = 1; n <= first_->of(); ++n)
            if (!shares_.contains(n)) missing.push_back(n);
        if (missing.empty()) return;
        std::string names;
        for (std::size_t i = 0; i < missing.size() && i < max_named; ++i)
            names += (i == 0 ? "" : ", ") + std::to_string(missing[i]);
        if (missing.size() > max_named) names += " and " + std::to_string(missing.size() - max_named) + " more";
        first_->complain("shares", "of " + std::to_string(first_->of()) + " parts these are missing: " + names,
                         "without them a claim could be left out unnoticed",
                         "make them with --shard " + std::to_string(missing.front()) + "/" +
                             std::to_string(first_->of()) + " --part FILE, and name all parts",
                         "part-missing");
    }

    // As it was named, where the program runs now; else where it was, as seen from the part.
    void find_model() {
        const auto sha = (*first_)["model"]["sha256"].get<std::string>();
        const fs::path named = (*first_)["file"].get<std::string>();
        const fs::path folder = fs::path(first_->name()).parent_path() / (*first_)["folder"].get<std::string>();
        bool found = false;
        for (const fs::path& before : {fs::path(), folder}) {
            const fs::path file = before.empty() ? named : (before / named).lexically_normal();
            const auto text = read_file(file, std::size_t{65} << 20U);
            found = found || text;
            if (!text || sha256_hex(*text) != sha) continue;
            out_.model = file;
            out_.folder = before;
            for (const Json& word : (*first_)["asked"]) out_.asked.push_back(word.get<std::string>());
            return;
        }
        const std::string name = sanitize_for_terminal(named.string());
        if (found)
            first_->complain("model", name + " has changed since the parts were made",
                             "its SHA-256 is not the one that is recorded here", "make the parts anew", "part-model");
        else
            first_->complain("file", "the model of these parts, " + name + ", cannot be read",
                             "merge checks every answer of the parts against the model",
                             "run lanyard merge in the folder in which the shares were judged", "part-model");
    }

    Rejected refusal() {
        Rejected out;
        out.because = Rejected::Because::unreadable;
        for (PartFile& part : parts_) part.tell(out);
        return out;
    }
};

// A part that is there already: of an interrupted call for the same share it is continued.
std::optional<Rejected> continue_part(const Share& share, const Json& head, Kept& out) {
    std::error_code error;
    if (!fs::exists(share.part, error)) return std::nullopt;
    PartFile before(share.part);
    if (before.is_read() && before.number() != share.number)
        before.complain("share", "this file is " + share_words(before.number(), before.of()) + " already",
                        "each share needs a part of its own", "give --part another name", "part-twice");
    if (before.is_wrong()) {
        Rejected wrong;
        wrong.because = Rejected::Because::unreadable;
        before.tell(wrong);
        return wrong;
    }
    const bool same = std::all_of(head.items().begin(), head.items().end(), [&](const auto& member) {
        return member.key() == "interrupted" || before[member.key().c_str()] == member.value();
    });
    if (same) out.add(before.answers());
    return std::nullopt;
}

}  // namespace

struct Parts::Read {
    Json head;                  // that all parts share
    std::vector<Json> answers;  // of each part, in the order of the shares
};

std::variant<Parts, Rejected> read_parts(const std::vector<fs::path>& files) {
    if (files.empty()) return unknown("no part is given", "");
    Comparison comparison(files);
    auto result = comparison.result();
    if (auto* parts = std::get_if<Parts>(&result)) {
        auto read = std::make_shared<Parts::Read>();
        std::vector<PartFile>& all = comparison.parts();
        std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.number() < b.number(); });
        for (const char* key : {"model", "packs"}) read->head[key] = all.front()[key];
        for (const PartFile& part : all) read->answers.push_back(part.answers());
        parts->read = std::move(read);
    }
    return result;
}

std::variant<std::unique_ptr<Kept>, Rejected> answers_for(const Model& model, const AnswerFiles& files) {
    const lanyard::model::Model& m = model.impl().model;
    std::unique_ptr<Kept> out;
    if (files.share) {
        const Share& share = *files.share;
        if (share.of < 1 || share.of > max_shares || share.number < 1 || share.number > share.of)
            return unknown("there is no " + share_words(share.number, share.of),
                           "1/1 to " + std::to_string(max_shares) + "/" + std::to_string(max_shares));
        if (files.keep || files.parts) return unknown("a share keeps its answers in its part alone", "");
        const Json head = part_head(m, share);
        out = std::make_unique<Kept>(share.part, head);
        if (auto wrong = continue_part(share, head, *out)) return std::move(*wrong);
        return out;
    }
    if (files.keep) {
        auto opened = Kept::open(*files.keep, m, files.fresh);
        if (std::holds_alternative<Rejected>(opened)) return opened;
        out = std::move(std::get<std::unique_ptr<Kept>>(opened));
    }
    if (!files.parts) return out;
    const Parts::Read& read = *files.parts->read;
    if (read.head["model"] != report::head_json(m, versions())["model"] || read.head["packs"] != packs_of(m))
        return rejected("the model or a rule pack has changed since the parts were made", "make the parts anew");
    if (out == nullptr) out = std::make_unique<Kept>(fs::path(), Json());
    for (const Json& answers : read.answers) out->add(answers);
    return out;
}

std::string write_answers(Kept* kept, const std::optional<Share>& share, bool interrupted) {
    if (kept == nullptr) return "";
    if (share) kept->note("interrupted", interrupted);
    return kept->write();
}

}  // namespace lanyard::api
