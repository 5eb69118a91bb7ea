// The fields of a claim's kind: straight from the keys of the claim, or filled in from the templates of the word that
// it is written with. What is wrong in a parameter is reported where that parameter stands.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/build.hpp"
#include "model/patterns.hpp"

namespace lanyard::model {

class ClaimParts {
 public:
    // `help` is a kind, or the object of a word.
    ClaimParts(Build& b, const ObjectHelp& help, const ObjectReader& object);

    // False where nothing more can be made of the claim; what is wrong was reported.
    bool good() const { return good_; }
    void spoil() { good_ = false; }
    const std::string& kind() const;  // id
    const std::string& word() const;  // empty if it is written plainly

    // By the keys of the kind.
    bool has(const std::string& field) const;
    ExprPtr expression(const std::string& field);
    std::optional<Rational> time(const std::string& field, bool above_zero);
    std::optional<LocatedText> text(const std::string& field) const;
    std::vector<LocatedText> texts(const std::string& field) const;
    bool flag(const std::string& field) const;
    long count(const std::string& field) const;
    // What holds without a condition of its own.
    ConditionId usual_condition() const;
    // What has happened where the claim does not hold.
    std::vector<FailurePiece> failure();
    // For messages: the key under which the field stands in the file, and where.
    std::string key(const std::string& field) const;
    Place place(const std::string& field) const;
    std::string pointer(const std::string& field) const;

 private:
    void choose_expansion();
    void check_keys();
    bool has_all(const std::vector<std::string>& keys) const;
    void idle(const std::string& key);
    void missing(const std::string& key);

    const KeyHelp& key_help(const std::string& key) const;
    // The texts of a parameter, or its default; empty if it is missing.
    std::vector<LocatedText> parameter_texts(const KeyHelp& key);
    // The compiled values of a parameter; nothing if one of them is wrong.
    const std::optional<std::vector<ExprPtr>>& values(const std::string& key);
    ExprPtr compiled(const LocatedText& text);
    ExprPtr named(const LocatedText& name);
    ExprPtr fed_load(const LocatedText& name, const Named& n);
    bool once_each(const std::vector<LocatedText>& names);
    std::optional<std::string> time_text(const std::string& key);

    ExprPtr filled(const std::string& text);
    std::optional<std::string> hole_text(const TemplatePiece& hole, std::vector<ExprPtr>& fillings);

    Build& b_;
    const ObjectHelp& help_;
    const ObjectReader& object_;
    const Pattern* pattern_;
    const Expansion* expansion_ = nullptr;
    bool good_;
    std::map<std::string, std::optional<std::vector<ExprPtr>>> values_;
};

}  // namespace lanyard::model
