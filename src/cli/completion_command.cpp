// completion: a script that lets bash (and zsh with bashcompinit) complete commands and options.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <vector>

#include "cli/face.h"

namespace warmside::cli {
namespace {

/// The words that can follow each chain of commands: "jot weigh" -> "--at --by ...".
void collect(const CLI::App& command, const std::string& chain,
             std::map<std::string, std::string>& words) {
  std::vector<std::string> list;
  for (const CLI::App* sub : command.get_subcommands(nullptr)) {
    list.push_back(sub->get_name());
    collect(*sub, chain.empty() ? sub->get_name() : chain + " " + sub->get_name(), words);
  }
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) list.push_back("--" + name);
  }
  if (command.get_fallthrough() && command.get_parent() != nullptr) {
    // "jot weigh --at 07:30": the short forms take jot's own options too.
    for (const CLI::Option* option : command.get_parent()->get_options()) {
      for (const std::string& name : option->get_lnames()) {
        if (std::find(list.begin(), list.end(), "--" + name) == list.end()) {
          list.push_back("--" + name);
        }
      }
    }
  }
  words[chain] = fmt::format("{}", fmt::join(list, " "));
}

std::string bash_script(const CLI::App& program) {
  std::map<std::string, std::string> words;
  collect(program, "", words);
  std::string cases;
  for (const auto& [chain, list] : words) {
    cases += fmt::format("    \"{}\") words=\"{}\" ;;\n", chain, list);
  }
  return "# Completion for bash; for zsh first run: autoload -U bashcompinit && bashcompinit\n"
         "_warmside() {\n"
         "  local current=\"${COMP_WORDS[COMP_CWORD]}\" chain=\"\" next words i\n"
         "  for ((i = 1; i < COMP_CWORD; i++)); do\n"
         "    next=\"${chain:+$chain }${COMP_WORDS[i]}\"\n"
         "    case \"$next\" in\n"
         "      " +
         [&] {
           std::string chains;
           for (const auto& [chain, list] : words) {
             if (!chain.empty()) chains += (chains.empty() ? "\"" : "|\"") + chain + "\"";
           }
           return chains;
         }() +
         ") chain=\"$next\" ;;\n"
         "    esac\n"
         "  done\n"
         "  case \"$chain\" in\n" +
         cases +
         "  esac\n"
         "  COMPREPLY=($(compgen -W \"$words\" -- \"$current\"))\n"
         "  [ ${#COMPREPLY[@]} -gt 0 ] || COMPREPLY=($(compgen -f -- \"$current\"))\n"
         "}\n"
         "complete -F _warmside warmside\n";
}

}  // namespace

void add_completion_command(CLI::App& program, Face& face) {
  auto* command =
      program.add_subcommand("completion", "print a completion script for bash and zsh");
  command->footer(
      "Example:\n  warmside completion > ~/.local/share/bash-completion/completions/warmside");
  command->callback([&program, &face] { face.out << bash_script(program); });
}

}  // namespace warmside::cli
