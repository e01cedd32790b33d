// A worker that does as its task says: 'ok', 'die', 'die once FILE', 'hang', 'large', 'meet' (waits for another).
import { existsSync, writeFileSync } from 'node:fs';

process.on('message', (message) => {
  if (message.type === 'start') {
    if (message.settings === 'cannot start') throw new Error('no such library');
    process.send({ type: 'ready' });
  } else if (message.type === 'end') process.disconnect();
  else work(message);
});
process.on('disconnect', () => process.exit(0));

/** Answers of tasks that wait. */
const waiting = [];

function work({ id, task }) {
  const [what, file] = task.split(' once ');
  const isDone = file !== undefined && existsSync(file);
  if (file !== undefined) writeFileSync(file, '');
  if (what === 'die' && !isDone) process.kill(process.pid, 'SIGKILL');
  if (what === 'throw') throw new RangeError('a defect');
  while (what === 'hang' && !isDone);
  const rssBytes = what === 'large' ? 9e9 : 1e6;
  const answer = () => process.send({ type: 'done', id, result: `${task} by ${process.pid}`, rssBytes });
  if (what !== 'meet') return answer();
  waiting.push(answer);
  if (waiting.length === 2) for (const each of waiting) each();
}
