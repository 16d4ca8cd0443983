#!/bin/sh
#SBATCH --job-name=sweep
#SBATCH --array=1-16
#SBATCH --cpus-per-task=4
#SBATCH --mem=2G
#SBATCH --requeue
exec simview sweep case.yaml --grid grid.yaml -o "$SLURM_SUBMIT_DIR/many" \
    --workers "$SLURM_CPUS_PER_TASK" --part "$SLURM_ARRAY_TASK_ID/16"
