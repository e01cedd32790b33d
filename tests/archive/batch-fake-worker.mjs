// A worker that does as its task says: 'ok', 'die', 'die once FILE', 'hang', 'large', 'meet' (waits for another).
import { existsSync, writeFileSync } from 'node:fs';

export function worker() {
  /** Answers of tasks that wait. */
  const waiting = [];
  return {
    start(settings) {
      if (settings === 'cannot start') throw new Error('no such library');
    },
    async task(task) {
      const [what, file] = task.split(' once ');
      const isDone = file !== undefined && existsSync(file);
      if (file !== undefined) writeFileSync(file, '');
      if (what === 'die' && !isDone) process.kill(process.pid, 'SIGKILL');
      if (what === 'throw') throw new RangeError('a defect');
      while (what === 'hang' && !isDone);
      process.memoryUsage.rss = () => (what === 'large' ? 9e9 : 1e6);
      if (what === 'meet')
        await new Promise((answer) => {
          waiting.push(answer);
          if (waiting.length === 2) for (const each of waiting) each();
        });
      return `${task} by ${process.pid}`;
    },
    end: () => Promise.resolve(),
  };
}
