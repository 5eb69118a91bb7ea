#include "circuit/currents.hpp"

#include <algorithm>
#include <map>

#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

constexpr std::size_t most_devices = 8;

using Device = std::pair<BranchKind, AnyId>;
Device device_of(const Branch& b) { return {b.kind, b.index}; }

class Sum {
 public:
    Sum(const Net& net, BranchId branch, NodeId in, Sign sign)
        : net_(net), branch_(branch), out_(other_end(net.branch(branch), in)), sign_(sign) {
        far_ = sign == Sign::plus ? net.strong(Sign::ground) : net.strong(Sign::plus);
        fed_anyway_ = net.reach(net.feeders(sign), sign, net.none(),
                                [&](BranchId b) { return b != branch && Net::is_always(net.branch(b)); });
        find_devices();
    }

    Drawn largest() {
        Drawn best = drawn();
        for (std::size_t i = 1; i < (std::size_t{1} << devices_.size()); ++i) {
            for (std::size_t d = 0; d < devices_.size(); ++d) devices_[d].second = (i >> d) % 2 == 1;
            Drawn other = drawn();
            if (other.amps > best.amps || (other.amps == best.amps && other.consumers.size() > best.consumers.size()))
                best = std::move(other);
        }
        best.at_most = too_many_;
        return best;
    }

 private:
    const Net& net_;
    BranchId branch_;
    NodeId out_;
    Sign sign_;
    NodeSet far_, fed_anyway_;
    std::vector<std::pair<Device, bool>> devices_;  // with the position that is tried: on
    bool too_many_ = false;

    // Devices behind the branch that close one way and another way; that of the branch itself is on as it must be.
    void find_devices() {
        const NodeSet all = behind([](BranchId) { return true; });
        net_.spend(net_.circuit().branches.size());
        std::map<Device, std::pair<bool, bool>> kinds;
        for (const BranchId b : net_.branches()) {
            const Branch& x = net_.branch(b);
            if (!is_switched(x) || !(all[x.from] || all[x.to])) continue;
            (x.makes ? kinds[device_of(x)].first : kinds[device_of(x)].second) = true;
        }
        const Branch& own = net_.branch(branch_);
        for (const auto& [device, kind] : kinds)
            if (kind.first && kind.second && !(is_switched(own) && device == device_of(own)))
                devices_.emplace_back(device, false);
        too_many_ = devices_.size() > most_devices;
        if (too_many_) devices_.clear();
    }

    NodeSet behind(const Net::Passes& closed) const {
        return net_.reach(net_.only(out_), sign_, net_.ends(),
                          [&](BranchId b) { return b != branch_ && !is_consumer(net_.branch(b)) && closed(b); });
    }

    bool closed(BranchId branch) const {
        const Branch& x = net_.branch(branch);
        if (!is_switched(x)) return true;
        const Branch& own = net_.branch(branch_);
        if (is_switched(own) && device_of(x) == device_of(own)) return x.makes == own.makes;
        for (const auto& [device, on] : devices_)
            if (device == device_of(x)) return x.makes == on;
        return true;
    }

    Drawn drawn() const {
        const NodeSet here = behind([this](BranchId b) { return closed(b); });
        net_.spend(here.size());
        Drawn sum;
        for (const NodeId n : here.ids()) {
            if (!here[n] || fed_anyway_[n]) continue;
            for (const BranchId b : net_.at(n))
                if (hangs(b, n)) sum.consumers.push_back(b);
        }
        std::sort(sum.consumers.begin(), sum.consumers.end());
        sum.consumers.erase(std::unique(sum.consumers.begin(), sum.consumers.end()), sum.consumers.end());
        for (const BranchId b : sum.consumers) {
            const auto& draws = net_.branch(b).limit;
            sum.amps += draws ? *draws : Rational(0);
            sum.unknown += draws ? 0 : 1;
        }
        return sum;
    }

    bool hangs(BranchId branch, NodeId near) const {
        const Branch& x = net_.branch(branch);
        if (!is_consumer(x) || !far_[other_end(x, near)]) return false;
        return !x.polar || (near == x.from) == (sign_ == Sign::plus);
    }
};

}  // namespace

std::optional<Drawn> drawn_through(const Net& net, BranchId branch, NodeId in, Sign sign) {
    const NodeSet fed = net.reach(net.feeders(sign), sign, net.none(),
                                  [&](BranchId b) { return b != branch && !is_consumer(net.branch(b)); });
    if (!fed[in]) return std::nullopt;
    return Sum(net, branch, in, sign).largest();
}

std::optional<Drawn> drawn_through(const Net& net, BranchId branch, Sign sign) {
    auto forwards = drawn_through(net, branch, net.branch(branch).from, sign);
    auto backwards = drawn_through(net, branch, net.branch(branch).to, sign);
    if (!forwards) return backwards;
    return backwards && backwards->amps > forwards->amps ? backwards : forwards;
}

std::string amps_text(const Rational& amps) { return exact_text(amps) + " A"; }

std::string drawn_text(const Net& net, const Drawn& drawn) {
    std::vector<std::string> items;
    for (const BranchId b : drawn.consumers)
        if (net.branch(b).limit) items.push_back(name_of_part(net.branch(b)) + " " + amps_text(*net.branch(b).limit));
    std::string text = listed(items);
    if (drawn.unknown > 0)
        text += "; " + std::to_string(drawn.unknown) +
                (drawn.unknown == 1 ? " more has no \"draws\"" : " more have no \"draws\"");
    return text;
}

}  // namespace lanyard::circuit
