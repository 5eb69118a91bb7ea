#include "page/document.hpp"

#include <cstdint>

#include "base/file.hpp"
#include "page/markup.hpp"
#include "page/texts.hpp"

namespace lanyard::page {

namespace {

std::string allowed(const std::string& content) { return "'sha256-" + base64_of_hex(sha256_hex(content)) + "'"; }

}  // namespace

std::string page_text(const std::string& wanted) {
    for (const PageText* t = page_texts; t->name != nullptr; ++t)
        if (wanted == t->name) return t->text;
    return "";
}

std::string base64_of_hex(const std::string& digits) {
    static constexpr const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    constexpr std::size_t group = 6;  // digits of three bytes, which are four letters
    std::string out;
    for (std::size_t at = 0; at < digits.size(); at += group) {
        const std::string part = digits.substr(at, group);
        const auto bits =
            static_cast<std::uint32_t>(std::stoul(part + std::string(group - part.size(), '0'), nullptr, 16));
        const std::size_t used = part.size() / 2 + 1;
        for (std::size_t k = 0; k < 4; ++k) out += k < used ? letters[bits >> (18 - 6 * k) & 63U] : '=';
    }
    return out;
}

std::string document(const std::string& title, const std::string& body) {
    const std::string style = page_text("style");
    const std::string script = page_text("script");
    const std::string policy = "default-src 'none'; style-src " + allowed(style) + "; script-src " + allowed(script) +
                               "; base-uri 'none'; form-action 'none'";
    const std::string head = "\n" + lone("meta charset=\"utf-8\"") + "\n" +
                             lone("meta http-equiv=\"Content-Security-Policy\" content=\"" + policy + "\"") + "\n" +
                             lone("meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"") + "\n" +
                             lone("meta name=\"color-scheme\" content=\"light dark\"") + "\n" +
                             tag("title", text(title)) + "\n" + tag("style", style) + "\n";
    return "<!DOCTYPE html>\n" +
           tag("html lang=\"en\"", tag("head", head) + "\n" + tag("body", "\n" + body + tag("script", script) + "\n")) +
           "\n";
}

}  // namespace lanyard::page
