// Who may say what. Logic sees what the controller sees; the supply and the world's guarded lines see the world and
// what the controller did at the previous scan; claims see everything.
#pragma once

#include "model/build.hpp"

namespace lanyard::model {

class ModelScope : public Scope {
 public:
    std::optional<Symbol> find(const std::string& name) const override;
    std::optional<Refusal> refusal(const std::string& name) const override;
    std::vector<std::string> names() const override;
    std::optional<TableShape> find_table(const std::string& name) const override;
    std::vector<std::string> table_names() const override;
    bool allows_implication() const override { return false; }
    bool has_engine() const override { return b_.has_engine; }
    ElementId new_element(Op op) override;

 protected:
    struct Sight {
        const char* words;  // "logic", "a claim"
        bool sees_engine = false, sees_powered = false, sees_nodes = false, sees_faults = false;
    };
    ModelScope(Build& b, const Sight& here) : b_(b), here_(here) {}

    virtual std::optional<Symbol> symbol(Named& n) const = 0;
    virtual Refusal refuse(const std::string& name, const Named& n) const = 0;

    Symbol present(const Named& n) const;
    Symbol before(const Named& n) const;
    // The value at the previous scan of what the controller drives and what that feeds.
    std::optional<Symbol> driven_before(const Named& n) const;

    Build& b_;

 private:
    std::optional<Symbol> any_of(const std::vector<FaultId>& faults) const;
    const Signal& signal_of(const Named& n) const { return b_.model.signal(n.signal); }

    const Sight here_;
};

class LogicScope : public ModelScope {
 public:
    explicit LogicScope(Build& b) : ModelScope(b, {"logic"}) {}

 private:
    std::optional<Symbol> symbol(Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
};

class SupplyScope : public ModelScope {
 public:
    explicit SupplyScope(Build& b) : ModelScope(b, {"the supply"}) {}

 private:
    std::optional<Symbol> symbol(Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
};

// "when" of a guarded line of one quantity.
class LineScope : public ModelScope {
 public:
    LineScope(Build& b, QuantityId quantity)
        : ModelScope(b, {.words = "a line of a quantity", .sees_engine = true, .sees_nodes = true}),
          quantity_(quantity) {}

 private:
    std::optional<Symbol> symbol(Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;

    QuantityId quantity_;
};

// When a source of the wiring is live.
class SourceScope : public ModelScope {
 public:
    explicit SourceScope(Build& b) : ModelScope(b, {.words = "a source", .sees_engine = true}) {}

 private:
    std::optional<Symbol> symbol(Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
};

class ClaimScope : public ModelScope {
 public:
    explicit ClaimScope(Build& b) : ModelScope(b, {"a claim", true, true, true, true}) {}
    bool allows_implication() const override { return true; }

 private:
    std::optional<Symbol> symbol(Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
};

}  // namespace lanyard::model
