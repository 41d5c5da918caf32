#include "cli/completions.hpp"

#include "cli/command.hpp"

#include <boost/program_options/cmdline.hpp>
#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <map>
#include <ostream>
#include <string>
#include <vector>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

enum class Takes { nothing, words, files, text };

/// One option as a shell sees it.
struct ShellOption {
  std::string name;   ///< "output"
  std::string brief;  ///< "o"; empty: none
  std::string help;
  Takes takes = Takes::nothing;
  std::string words;  ///< "text csv json jsonl"
};

/// From what help calls the value: FILE, "text|csv".
void set_value(const po::option_description& option, ShellOption& shell) {
  if (option.semantic()->max_tokens() == 0) {
    return;
  }
  const std::string value = option.semantic()->name();
  if (value.find('|') != std::string::npos) {
    shell.takes = Takes::words;
    shell.words = value;
    std::replace(shell.words.begin(), shell.words.end(), '|', ' ');
    return;
  }
  const auto says = [&](const char* word) { return value.find(word) != std::string::npos; };
  shell.takes = says("FILE") || says("PATH") || says("FOLDER") ? Takes::files : Takes::text;
}

std::vector<ShellOption> options_of(const Command& command) {
  auto described = command.options();
  described.add_options()("version", "print the version")("help,h", "print help");
  std::vector<ShellOption> all;
  for (const auto& option : described.options()) {
    ShellOption shell{.name = option->long_name(), .brief = "", .help = option->description(), .words = ""};
    const std::string brief = option->canonical_display_name(po::command_line_style::allow_dash_for_short);
    shell.brief = brief.starts_with('-') && brief.size() == 2 ? brief.substr(1) : "";
    set_value(*option, shell);
    all.push_back(std::move(shell));
  }
  return all;
}

/// "fixes speed runs": all that have a name.
std::string command_names(const char* between) {
  std::string names;
  for (const Command& command : commands()) {
    names += *command.name == '\0' ? "" : (names.empty() ? "" : between) + std::string(command.name);
  }
  return names;
}

/// The text with a backslash before each of some characters.
std::string guarded(const std::string& text, const std::string& special) {
  std::string out;
  for (const char c : text) {
    out += (special.find(c) != std::string::npos ? "\\" : "") + std::string(1, c);
  }
  return out;
}

/// In single quotes, whatever it holds.
std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) {
    out += c == '\'' ? "'\\''" : std::string(1, c);
  }
  return out + "'";
}

/// "--output|-o"
std::string bash_names(const ShellOption& option) {
  return "--" + option.name + (option.brief.empty() ? "" : "|-" + option.brief);
}

/// What follows an option, for all commands at once: an option of one name takes the same everywhere.
void write_bash_values(std::ostream& out) {
  std::map<std::string, ShellOption> all;
  for (const Command& command : commands()) {
    for (const ShellOption& option : options_of(command)) {
      all.emplace(option.name, option);
    }
  }
  for (const auto& [name, option] : all) {
    switch (option.takes) {
      case Takes::nothing:
        break;
      case Takes::words:
        out << "    " << bash_names(option) << ") mapfile -t COMPREPLY < <(compgen -W "
            << quoted(option.words) << " -- \"$cur\"); return ;;\n";
        break;
      case Takes::files:
        out << "    " << bash_names(option)
            << ") compopt -o filenames; mapfile -t COMPREPLY < <(compgen -f -- "
            << "\"$cur\"); return ;;\n";
        break;
      case Takes::text:
        out << "    " << bash_names(option) << ") return ;;\n";
        break;
    }
  }
}

/// "'--format[how to write]:value:(text csv)'"
std::string zsh_spec(const ShellOption& option) {
  const std::string help = "[" + guarded(option.help, "[]\\") + "]";
  std::string value;
  if (option.takes == Takes::words) {
    value = ":value:(" + option.words + ")";
  } else if (option.takes == Takes::files) {
    value = ":path:_files";
  } else if (option.takes == Takes::text) {
    value = ":value: ";
  }
  return option.brief.empty() ? quoted("--" + option.name + help + value)
                              : "'(-" + option.brief + " --" + option.name + ")'{-" + option.brief + ",--" +
                                    option.name + "}" + quoted(help + value);
}

void write_zsh_arguments(std::ostream& out, const Command& command, const std::string& first) {
  out << "      _arguments -s -S \\\n";
  for (const ShellOption& option : options_of(command)) {
    out << "        " << zsh_spec(option) << " \\\n";
  }
  out << first << "        '*:log or folder:_files'\n";
}

std::string fish_option(const ShellOption& option) {
  std::string text = " -l " + option.name + (option.brief.empty() ? "" : " -s " + option.brief);
  if (option.takes == Takes::words) {
    text += " -x -a " + quoted(option.words);
  } else if (option.takes != Takes::nothing) {
    text += option.takes == Takes::files ? " -r -F" : " -x";
  }
  return text + " -d " + quoted(guarded(option.help, "\\"));
}

}  // namespace

void write_bash_completion(std::ostream& out) {
  out << "# bash completion of bothways\n"
         "_bothways() {\n"
         "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} options\n"
         "  COMPREPLY=()\n"
         "  case $prev in\n";
  write_bash_values(out);
  out << "  esac\n"
         "  if [[ $cur == -* ]]; then\n"
         "    case ${COMP_WORDS[1]} in\n";
  const auto write_options = [&](const Command& command) {
    out << "      " << (*command.name == '\0' ? "*" : command.name) << ") options='";
    for (const ShellOption& option : options_of(command)) {
      out << (option.brief.empty() ? "" : "-" + option.brief + " ") << "--" << option.name << ' ';
    }
    out << "' ;;\n";
  };
  for (const Command& command : commands().subspan(1)) {
    write_options(command);
  }
  write_options(commands().front());
  out << "    esac\n"
         "    mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$cur\")\n"
         "    return\n"
         "  fi\n"
         "  compopt -o filenames 2> /dev/null\n"
         "  mapfile -t COMPREPLY < <(compgen -f -- \"$cur\")\n"
         "  if [[ $COMP_CWORD == 1 ]]; then\n"
         "    mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -W "
      << quoted(command_names(" "))
      << " -- \"$cur\")\n"
         "  fi\n"
         "}\n"
         "complete -F _bothways bothways\n";
}

void write_zsh_completion(std::ostream& out) {
  out << "#compdef bothways\n"
         "# zsh completion of bothways\n"
         "_bothways_first() {\n"
         "  local -a commands=(\n";
  for (const Command& command : commands().subspan(1)) {
    out << "    " << quoted(std::string(command.name) + ":" + guarded(command.summary, ":")) << '\n';
  }
  out << "  )\n"
         "  _alternative 'commands:command:(('\"${(j: :)${(@qq)commands}}\"'))' 'files:log or "
         "folder:_files'\n"
         "}\n"
         "_bothways() {\n"
         "  case ${words[2]} in\n";
  for (const Command& command : commands().subspan(1)) {
    out << "    " << command.name << ")\n      shift words\n      (( CURRENT-- ))\n";
    write_zsh_arguments(out, command, "");
    out << "      ;;\n";
  }
  out << "    *)\n";
  write_zsh_arguments(out, commands().front(), "        '1: :_bothways_first' \\\n");
  out << "      ;;\n"
         "  esac\n"
         "}\n"
         "_bothways \"$@\"\n";
}

void write_fish_completion(std::ostream& out) {
  out << "# fish completion of bothways\n";
  for (const Command& command : commands().subspan(1)) {
    out << "complete -c bothways -n __fish_use_subcommand -a " << command.name << " -d "
        << quoted(command.summary) << '\n';
  }
  for (const Command& command : commands()) {
    const std::string when = *command.name == '\0'
                                 ? "not __fish_seen_subcommand_from " + command_names(" ")
                                 : "__fish_seen_subcommand_from " + std::string(command.name);
    for (const ShellOption& option : options_of(command)) {
      out << "complete -c bothways -n " << quoted(when) << fish_option(option) << '\n';
    }
  }
}

}  // namespace bothways::cli
