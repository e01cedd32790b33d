/** Completion of commands and options in a shell, from the descriptions of the commands. */
import { optionsOf, UsageError, type Command } from './command.js';

/** @throws {UsageError} a shell that is neither bash nor zsh. */
export function completionScript(shell: string, commands: readonly Command[]): string {
  if (shell !== 'bash' && shell !== 'zsh') throw new UsageError(`the shell is bash or zsh, not '${shell}'`);
  const cases = commands.map((of) => {
    const words = [...optionsOf(of).map(({ name }) => `--${name}`), '--json', '--help'];
    return `    ${of.name}) words="${words.join(' ')}" ;;`;
  });
  const script = [
    '_waysheet() {',
    '  local current="${COMP_WORDS[COMP_CWORD]}" words=""',
    `  if [ "$COMP_CWORD" = 1 ]; then words="${commands.map(({ name }) => name).join(' ')}"`,
    '  else case "${COMP_WORDS[1]}" in',
    ...cases,
    '  esac; fi',
    '  case "$current" in',
    '    -*) COMPREPLY=($(compgen -W "$words" -- "$current")) ;;',
    '    *) if [ "$COMP_CWORD" = 1 ]; then COMPREPLY=($(compgen -W "$words" -- "$current")); else COMPREPLY=($(compgen -f -- "$current")); fi ;;',
    '  esac',
    '}',
    'complete -o filenames -F _waysheet waysheet',
    '',
  ];
  return (shell === 'zsh' ? ['autoload -U +X bashcompinit && bashcompinit', ...script] : script).join('\n');
}
