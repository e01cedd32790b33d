#!/bin/bash
# An archive as a Slurm job array, 16 parts:
#   array=$(sbatch --parsable --array=1-16 slurm.sh JOBS OUT [options of batch …])
#   sbatch --dependency=afterok:$array --kill-on-invalid-dep=yes --wrap "waysheet merge OUT --of JOBS"
# A part that failed is put back by `scontrol requeue`, or run again the same way: it goes on where it was.
#SBATCH --job-name=waysheet
#SBATCH --cpus-per-task=2
#SBATCH --mem=4G
#SBATCH --requeue
# Slurm ends a job by SIGTERM; the batch then finishes what runs and stops.
#SBATCH --signal=B:TERM@120
set -u

# Arrays may begin at 0 or at 1.
index=$((SLURM_ARRAY_TASK_ID - SLURM_ARRAY_TASK_MIN + 1))
parts=$((SLURM_ARRAY_TASK_MAX - SLURM_ARRAY_TASK_MIN + 1))

waysheet batch "$1" --out "$2" --shard "$index/$parts" --jobs "$SLURM_CPUS_PER_TASK" "${@:3}" &
batch=$!
trap 'kill -TERM $batch' TERM
wait $batch
status=$?
# After a signal `wait` returns early; the batch itself is still finishing.
if kill -0 $batch 2>/dev/null; then
  wait $batch
  status=$?
fi

# Refused jobs are a result, and stand in the register.
[ $status -eq 3 ] && status=0
exit $status
