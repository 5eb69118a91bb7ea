// Messages of one compilation, held back until it is clear which of them count.
#pragma once

#include "model/build.hpp"

namespace lanyard::model {

// Does the message follow from the type of something? Where that type is not known, it may only follow from a guess.
bool is_about_types(const Diagnostic& d);

// While it lives, messages are held back.
class DivertedReport {
 public:
    explicit DivertedReport(Build& b) : b_(b), before_(b.reading.divert(&held_)) {}
    DivertedReport(const DivertedReport&) = delete;
    DivertedReport& operator=(const DivertedReport&) = delete;
    ~DivertedReport() { b_.reading.divert(before_); }

    // Passes on what does not depend on types; true if something was held back for good.
    bool drop_type_messages();

 private:
    Build& b_;
    Diagnostics held_;
    Diagnostics* before_;
};

// While it lives, messages are held back; in the end they are passed on with what they are about. For texts that stand
// in no file of the user's.
class ReportAbout {
 public:
    ReportAbout(Build& b, std::string about) : b_(b), about_(std::move(about)), before_(b.reading.divert(&held_)) {}
    ReportAbout(const ReportAbout&) = delete;
    ReportAbout& operator=(const ReportAbout&) = delete;
    ~ReportAbout() {
        b_.reading.divert(before_);
        for (Diagnostic d : held_.list()) {
            d.what = about_ + ": " + d.what;
            b_.reading.add(std::move(d));
        }
    }

 private:
    Build& b_;
    std::string about_;
    Diagnostics held_;
    Diagnostics* before_;
};

}  // namespace lanyard::model
