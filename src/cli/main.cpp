#include <exception>
#include <iostream>
#include <new>

#include <lanyard/lanyard.hpp>
#include <lanyard/log.hpp>

#include "cli/commands.hpp"

namespace {

using lanyard::cli::Exit;

Exit run(int count, char** words) {
    auto line = lanyard::cli::parse(std::vector<std::string>(words + (count > 0 ? 1 : 0), words + count));
    if (const auto* error = std::get_if<lanyard::cli::UsageError>(&line)) return lanyard::cli::complain(*error);
    const Exit exit = lanyard::cli::run_command_line(std::get<lanyard::cli::CommandLine>(line));
    // A full disk or a closed pipe must not look like a printed verdict.
    if (!std::cout.flush())
        return lanyard::cli::complain(lanyard::cli::UsageError{"standard output could not be written", ""});
    const std::string lost = lanyard::api::stop_log();
    if (!lost.empty())
        return lanyard::cli::complain(
            lanyard::cli::UsageError{lost, "the results above are valid; the log is not complete"});
    return exit;
}

Exit internal_error(const std::string& what, const std::string& more) {
    std::cerr << "\nlanyard: internal error: " << what << "\n  do not trust any verdict of this run\n";
    if (!more.empty()) std::cerr << "  " << more << '\n';
    return Exit::internal;
}

}  // namespace

int main(int count, char** words) {
    Exit exit = Exit::internal;
    try {
        exit = run(count, words);
    } catch (const lanyard::api::InternalError& error) {
        exit = internal_error(error.what(), error.report_file().empty()
                                                ? ""
                                                : "please report it with the file " + error.report_file().string());
    } catch (const std::bad_alloc&) {
        exit = internal_error("out of memory", "--memory, or fewer --jobs, may help");
    } catch (const std::exception& error) {
        exit = internal_error(error.what(), "please report it with the model file and the command line");
    }
    return lanyard::cli::code_of(exit);
}
