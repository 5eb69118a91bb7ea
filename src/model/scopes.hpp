// Who may say what. Logic sees what the controller sees; the supply and the world's guarded lines see the world and
// what the controller did at the previous scan; claims see everything.
#pragma once

#include "model/build.hpp"

namespace lanyard {

class ModelScope : public Scope {
 public:
    explicit ModelScope(Build& b) : b_(b) {}

    std::optional<Symbol> find(const std::string& name) const override;
    std::optional<Refusal> refusal(const std::string& name) const override;
    std::vector<std::string> names() const override;
    std::optional<TableShape> find_table(const std::string& name) const override;
    std::vector<std::string> table_names() const override;
    bool allows_implication() const override { return false; }
    bool has_engine() const override { return b_.has_engine; }
    ElementId new_element(Op op) override;

 protected:
    std::optional<Symbol> any_of(const std::vector<FaultId>& faults) const;
    virtual std::optional<Symbol> symbol(const std::string& name, Named& n) const = 0;
    virtual Refusal refuse(const std::string& name, const Named& n) const = 0;
    virtual bool sees_engine() const = 0;
    virtual bool sees_powered() const { return false; }
    virtual bool sees_wiring(Thing /*node or fault*/) const { return false; }
    virtual std::string place_words() const = 0;  // "logic", "a claim"

    Symbol present(const Named& n) const;
    Symbol before(const Named& n) const;
    // The value at the previous scan of what the controller drives and what that feeds.
    std::optional<Symbol> driven_before(const Named& n) const;
    const Signal& signal_of(const Named& n) const { return b_.model.signal(n.signal); }

    Build& b_;
};

class LogicScope : public ModelScope {
 public:
    using ModelScope::ModelScope;

 protected:
    std::optional<Symbol> symbol(const std::string& name, Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
    bool sees_engine() const override { return false; }
    std::string place_words() const override { return "logic"; }
};

class SupplyScope : public ModelScope {
 public:
    using ModelScope::ModelScope;

 protected:
    std::optional<Symbol> symbol(const std::string& name, Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
    bool sees_engine() const override { return false; }
    std::string place_words() const override { return "the supply"; }
};

// "when" of a guarded line of one quantity.
class LineScope : public ModelScope {
 public:
    LineScope(Build& b, QuantityId quantity) : ModelScope(b), quantity_(quantity) {}

 protected:
    std::optional<Symbol> symbol(const std::string& name, Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
    bool sees_engine() const override { return true; }
    bool sees_wiring(Thing t) const override { return t == Thing::node; }
    std::string place_words() const override { return "a line of a quantity"; }

 private:
    QuantityId quantity_;
};

// When a source of the wiring is live.
class SourceScope : public ModelScope {
 public:
    using ModelScope::ModelScope;

 protected:
    std::optional<Symbol> symbol(const std::string& name, Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
    bool sees_engine() const override { return true; }
    std::string place_words() const override { return "a source"; }
};

class ClaimScope : public ModelScope {
 public:
    using ModelScope::ModelScope;
    bool allows_implication() const override { return true; }

 protected:
    std::optional<Symbol> symbol(const std::string& name, Named& n) const override;
    Refusal refuse(const std::string& name, const Named& n) const override;
    bool sees_engine() const override { return true; }
    bool sees_powered() const override { return true; }
    bool sees_wiring(Thing /*node or fault*/) const override { return true; }
    std::string place_words() const override { return "a claim"; }
};

}  // namespace lanyard
