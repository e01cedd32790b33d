// A worker that does as its task says: 'ok', 'die', 'die once FILE', 'hang', 'memory'.
import { existsSync, writeFileSync } from 'node:fs';

process.on('message', (message) => {
  if (message.type === 'start') {
    if (message.settings === 'cannot start') throw new Error('no such library');
    process.send({ type: 'ready' });
  } else if (message.type === 'end') process.disconnect();
  else work(message.task);
});
process.on('disconnect', () => process.exit(0));

function work(task) {
  const [what, file] = task.split(' once ');
  const isDone = file !== undefined && existsSync(file);
  if (file !== undefined) writeFileSync(file, '');
  if (what === 'die' && !isDone) process.kill(process.pid, 'SIGKILL');
  if (what === 'throw') throw new RangeError('a defect');
  while (what === 'hang' && !isDone);
  process.send({ type: 'done', result: `${task} by ${process.pid}`, rssBytes: what === 'large' ? 9e9 : 1e6 });
}
