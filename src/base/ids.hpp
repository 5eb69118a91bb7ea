// Which of a list: a number that knows what it is the number of, and lists that are asked by such numbers only. Mixing
// up a relay and a load does not compile.
#pragma once

#include <cassert>
#include <compare>
#include <concepts>
#include <cstddef>
#include <functional>
#include <initializer_list>
#include <iterator>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

// Which Thing of its list. One that was made without a number is none; it sorts before all others.
template <class Thing>
class Id {
 public:
    constexpr Id() = default;
    constexpr explicit Id(std::size_t index) : number_(static_cast<int>(index)) {}

    constexpr explicit operator bool() const { return number_ >= 0; }
    // Place in the list, from 0.
    constexpr std::size_t index() const {
        assert(number_ >= 0);
        return static_cast<std::size_t>(number_);
    }

    friend constexpr auto operator<=>(const Id&, const Id&) = default;

 private:
    int number_ = -1;
};

// Which of its enumeration, from 0.
template <class Enumeration>
requires std::is_enum_v<Enumeration>
constexpr std::size_t ordinal(Enumeration e) { return static_cast<std::size_t>(e); }

// The number of a thing whose kind its owner knows, and has to name to use it.
class AnyId {
 public:
    constexpr AnyId() = default;
    template <class Thing>
    constexpr AnyId(Id<Thing> id) : number_(id ? static_cast<int>(id.index()) : -1) {}
    template <class Thing>
    constexpr operator Id<Thing>() const {
        return to<Thing>();
    }
    template <class Thing>
    friend constexpr bool operator==(const AnyId& a, Id<Thing> b) {
        return a.to<Thing>() == b;
    }
    template <class Thing>
    constexpr Id<Thing> to() const {
        return number_ < 0 ? Id<Thing>{} : Id<Thing>(static_cast<std::size_t>(number_));
    }
    constexpr explicit operator bool() const { return number_ >= 0; }
    friend constexpr auto operator<=>(const AnyId&, const AnyId&) = default;
    friend constexpr bool operator==(const AnyId&, const AnyId&) = default;

 private:
    int number_ = -1;
};

// As many as another list has things.
template <class Thing>
struct Like {
    std::size_t size;
};

// A Value for each Thing; usually the things themselves.
template <class Thing, class Value = Thing>
class Indexed {
    using Values = std::vector<Value>;

 public:
    Indexed() = default;
    explicit Indexed(std::size_t size, const Value& value = Value()) : values_(size, value) {}
    // The same value for each thing of another list: Indexed<Load, bool> hot(like(model.loads)).
    explicit Indexed(Like<Thing> other, const Value& value = Value()) : values_(other.size, value) {}
    Indexed(std::initializer_list<Value> values) : values_(values) {}
    explicit Indexed(Values values) : values_(std::move(values)) {}

    typename Values::reference operator[](Id<Thing> id) { return values_[id.index()]; }
    typename Values::const_reference operator[](Id<Thing> id) const { return values_[id.index()]; }
    typename Values::reference at(Id<Thing> id) { return values_.at(id.index()); }
    typename Values::const_reference at(Id<Thing> id) const { return values_.at(id.index()); }

    // Adds one and says which it is.
    Id<Thing> add(Value value) {
        values_.push_back(std::move(value));
        return last();
    }
    Id<Thing> last() const { return values_.empty() ? Id<Thing>{} : Id<Thing>(values_.size() - 1); }
    // The one that is added next.
    Id<Thing> next() const { return Id<Thing>(values_.size()); }
    bool has(Id<Thing> id) const { return id && id.index() < values_.size(); }

    std::size_t size() const { return values_.size(); }
    bool empty() const { return values_.empty(); }
    void resize(std::size_t size, const Value& value = Value()) { values_.resize(size, value); }
    void assign(std::size_t size, const Value& value) { values_.assign(size, value); }
    void clear() { values_.clear(); }
    void reserve(std::size_t size) { values_.reserve(size); }
    void push_back(Value value) { values_.push_back(std::move(value)); }
    template <class... Args>
    decltype(auto) emplace_back(Args&&... args) {
        return values_.emplace_back(std::forward<Args>(args)...);
    }
    void pop_back() { values_.pop_back(); }
    template <class Place, class... What>
    auto insert(Place where, What&&... what) {
        return values_.insert(where, std::forward<What>(what)...);
    }
    template <class... Places>
    auto erase(Places... places) {
        return values_.erase(places...);
    }
    auto begin() { return values_.begin(); }
    auto end() { return values_.end(); }
    auto begin() const { return values_.begin(); }
    auto end() const { return values_.end(); }
    decltype(auto) front() { return values_.front(); }
    decltype(auto) back() { return values_.back(); }
    decltype(auto) front() const { return values_.front(); }
    decltype(auto) back() const { return values_.back(); }
    const Values& values() const { return values_; }
    friend auto operator<=>(const Indexed&, const Indexed&) = default;
    friend bool operator==(const Indexed&, const Indexed&) = default;

    // All numbers in order: for (const RelayId r : model.relays.ids()).
    class Ids {
     public:
        class iterator {
         public:
            using value_type = Id<Thing>;
            using difference_type = std::ptrdiff_t;
            using reference = Id<Thing>;
            using pointer = void;
            using iterator_category = std::input_iterator_tag;
            iterator() = default;
            explicit iterator(std::size_t at) : at_(at) {}
            Id<Thing> operator*() const { return Id<Thing>(at_); }
            iterator& operator++() {
                ++at_;
                return *this;
            }
            iterator operator++(int) { return iterator(at_++); }
            friend bool operator==(const iterator&, const iterator&) = default;

         private:
            std::size_t at_ = 0;
        };
        explicit Ids(std::size_t size) : size_(size) {}
        iterator begin() const { return iterator(0); }
        iterator end() const { return iterator(size_); }

     private:
        std::size_t size_;
    };
    Ids ids() const { return Ids(values_.size()); }

 private:
    Values values_;
};

template <class Thing, class Value>
Like<Thing> like(const Indexed<Thing, Value>& things) {
    return {things.size()};
}

}  // namespace lanyard::base

template <class Thing>
struct std::hash<lanyard::base::Id<Thing>> {
    std::size_t operator()(lanyard::base::Id<Thing> id) const { return id ? id.index() + 1 : 0; }
};
