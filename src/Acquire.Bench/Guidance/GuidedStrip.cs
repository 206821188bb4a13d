using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Guidance;

/// <summary>
/// A strip on its way through the bench: what has been read, and what comes next. Immutable; every step gives a new one. Nothing is
/// ever dropped: a read that is taken back stays, with the reason.
/// </summary>
public sealed record GuidedStrip
{
    /// <summary>The reason that a read carries after it was taken back.</summary>
    public const string TakenBack = "taken back at the bench";

    /// <summary>The reason that reads carry after their patch was read again.</summary>
    public const string ReadAgain = "patch read again";

    private readonly ImmutableStack<Step> _steps;

    private GuidedStrip(ReadingPlan plan, ImmutableArray<PatchReads> patches, ImmutableStack<Step> steps) =>
        (Plan, Patches, _steps) = (plan, patches, steps);

    public ReadingPlan Plan { get; }

    /// <summary>What has been read so far, in the layout's order.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>What comes next; null when every patch is read or left out.</summary>
    public ReadTarget? Next
    {
        get
        {
            var index = CurrentIndex;
            return index < 0
                ? null
                : new ReadTarget(Patches[index].Patch, Patches[index].Accepted.Count() + 1, Plan.ReadsPerPatch, index + 1, Patches.Length)
                {
                    Still = Patches[index].Accepted.Count() % Plan.ReadsPerPlacement != 0,
                };
        }
    }

    /// <summary>Whether nothing is left to read.</summary>
    public bool IsComplete => CurrentIndex < 0;

    /// <summary>Whether there is a step to take back.</summary>
    public bool CanUndo => !Standing.IsEmpty;

    /// <summary>Whether the last step was a remedy.</summary>
    public bool LastWasRemedy => Standing is { IsEmpty: false } steps && steps.Peek() is Step.Remedied;

    /// <summary>The last read that was taken and counts, and what it was taken for; null when there is none.</summary>
    public (ReadTarget Target, Reading Reading)? LastRead
    {
        get
        {
            if (_steps.OfType<Step.Read>().FirstOrDefault(Stands) is not { PatchIndex: var patch, ReadIndex: var index })
            {
                return null;
            }

            var reads = Patches[patch].Reads;
            var number = reads.Take(index + 1).Count(r => r.Counts);
            return (new ReadTarget(Patches[patch].Patch, number, Plan.ReadsPerPatch, patch + 1, Patches.Length), reads[index].Reading);
        }
    }

    /// <summary>How many reads have been taken, excluded ones too.</summary>
    public int ReadsTaken => Patches.Sum(p => p.Reads.Length);

    /// <summary>The steps without those on top that a remedy has undone.</summary>
    private ImmutableStack<Step> Standing
    {
        get
        {
            var steps = _steps;
            while (!steps.IsEmpty && !Stands(steps.Peek()))
            {
                steps = steps.Pop();
            }

            return steps;
        }
    }

    private int CurrentIndex
    {
        get
        {
            for (var i = 0; i < Patches.Length; i++)
            {
                if (Patches[i].LeftOut is null && Patches[i].Accepted.Count() < Plan.ReadsPerPatch)
                {
                    return i;
                }
            }

            return -1;
        }
    }

    /// <summary>A strip of which nothing has been read.</summary>
    public static GuidedStrip Begin(ReadingPlan plan) =>
        new(plan, [.. plan.Layout.Patches.Select(PatchReads.None)], []);

    /// <summary>Takes a reading for the next patch.</summary>
    /// <exception cref="InvalidOperationException">The strip is complete.</exception>
    public GuidedStrip Accept(Reading reading)
    {
        var index = CurrentIndex >= 0 ? CurrentIndex : throw new InvalidOperationException("The strip is complete.");
        var patch = Patches[index];
        var read = patch.Reads.Length;
        return With(index, patch with { Reads = patch.Reads.Add(new PatchRead(reading)) }, _steps.Push(new Step.Read(index, read)));
    }

    /// <summary>
    /// Carries out a remedy that the user agreed to; one that is for the user to do changes nothing, and is a step all the same.
    /// </summary>
    /// <exception cref="ArgumentException">The remedy is of another strip.</exception>
    public GuidedStrip Apply(Remedy remedy, DateTimeOffset at)
    {
        // A remedy may move reads to other patches; the steps below follow them, so that undo goes on behind it.
        var after = Remedies.Apply(remedy, Patches, at);
        ImmutableArray<int> from = remedy is Remedy.ReorderPatches { From: var order } ? order : [.. Enumerable.Range(0, Patches.Length)];
        return new GuidedStrip(Plan, after, Moved(_steps, i => from.IndexOf(i)).Push(new Step.Remedied(Patches, after, from)));
    }

    /// <summary>
    /// Takes the last step back: the last read that counts, the last patch left out, or the last remedy. Nothing happens at the beginning.
    /// </summary>
    public GuidedStrip Undo(DateTimeOffset at) => Unstep(new Exclusion(TakenBack, at));

    /// <summary>Leaves out the last read for the user's reason; the patch is then one read short and comes up again.</summary>
    /// <exception cref="Domain.ImpossibleValueException">The reason is empty.</exception>
    public GuidedStrip LeaveOutLastRead(string reason, DateTimeOffset at)
    {
        var exclusion = new Exclusion(reason, at);
        return !LastWasRemedy ? Unstep(exclusion)
            : _steps.OfType<Step.Read>().FirstOrDefault(Stands) is { } last ? LeaveOut(last, exclusion, _steps)
            : this;
    }

    /// <summary>
    /// Reads a patch again from its first read: the current one, or the one before when nothing of the current has been read.
    /// </summary>
    public GuidedStrip ReadPatchAgain(DateTimeOffset at)
    {
        if (_steps.FirstOrDefault(s => s is not Step.Remedied && Stands(s)) is not { } last)
        {
            return this;
        }

        var index = PatchOf(last)!.Value;
        var patch = Patches[index];
        var exclusion = new Exclusion(ReadAgain, at);
        var steps = ImmutableStack.CreateRange(_steps.Reverse().Where(s => PatchOf(s) != index));
        var reads = patch.Reads.Select(r => r.Counts ? r with { Exclusion = exclusion } : r);
        return With(index, patch with { Reads = [.. reads], LeftOut = null }, steps);
    }

    /// <summary>Leaves out the patch that comes next, for the user's reason; what was read of it stays.</summary>
    /// <exception cref="Domain.ImpossibleValueException">The reason is empty.</exception>
    /// <exception cref="InvalidOperationException">The strip is complete.</exception>
    public GuidedStrip LeaveOutPatch(string reason, DateTimeOffset at)
    {
        var index = CurrentIndex >= 0 ? CurrentIndex : throw new InvalidOperationException("The strip is complete.");
        return With(index, Patches[index] with { LeftOut = new Exclusion(reason, at) }, _steps.Push(new Step.LeftOut(index)));
    }

    private GuidedStrip Unstep(Exclusion exclusion)
    {
        if (Standing is not { IsEmpty: false } standing)
        {
            return this;
        }

        // Reads are excluded, not removed, so their places never move and the steps below stay true.
        var rest = standing.Pop(out var step);
        switch (step)
        {
            case Step.Read read:
                return LeaveOut(read, exclusion, rest);
            case Step.LeftOut { PatchIndex: var index }:
                return With(index, Patches[index] with { LeftOut = null }, rest);
            default:
                var remedied = (Step.Remedied)step;
                return new GuidedStrip(Plan, remedied.TakeBack(Patches), Moved(rest, i => remedied.From[i]));
        }
    }

    private GuidedStrip LeaveOut(Step.Read step, Exclusion exclusion, ImmutableStack<Step> steps)
    {
        var patch = Patches[step.PatchIndex];
        return With(
            step.PatchIndex,
            patch with { Reads = patch.Reads.SetItem(step.ReadIndex, patch.Reads[step.ReadIndex] with { Exclusion = exclusion }) },
            steps);
    }

    /// <summary>Whether a step is still in force: a remedy may have left out its read.</summary>
    private bool Stands(Step step) =>
        step is not Step.Read { PatchIndex: var patch, ReadIndex: var read } || Patches[patch].Reads[read].Counts;

    private static int? PatchOf(Step step) => step switch
    {
        Step.Read { PatchIndex: var index } => index,
        Step.LeftOut { PatchIndex: var index } => index,
        _ => null,
    };

    private static ImmutableStack<Step> Moved(ImmutableStack<Step> steps, Func<int, int> to) =>
        ImmutableStack.CreateRange(steps.Reverse().Select(s => s.Moved(to)));

    private GuidedStrip With(int index, PatchReads patch, ImmutableStack<Step> steps) => new(Plan, Patches.SetItem(index, patch), steps);
}

/// <summary>A step at the bench that can be taken back.</summary>
internal abstract record Step
{
    private Step()
    {
    }

    public sealed record Read(int PatchIndex, int ReadIndex) : Step;

    public sealed record LeftOut(int PatchIndex) : Step;

    /// <summary>
    /// A remedy was carried out. Reads that came later stay when it is taken back, and so do the reasons that reads got later.
    /// </summary>
    /// <param name="Before">The patches before it.</param>
    /// <param name="After">The patches after it.</param>
    /// <param name="From">For each patch, the index of the patch whose reads it took.</param>
    public sealed record Remedied(ImmutableArray<PatchReads> Before, ImmutableArray<PatchReads> After, ImmutableArray<int> From) : Step
    {
        /// <summary>The patches without the remedy.</summary>
        public ImmutableArray<PatchReads> TakeBack(ImmutableArray<PatchReads> now) =>
        [
            .. Before.Select((before, patch) =>
            {
                var to = From.IndexOf(patch);
                return before with { Reads = [
                    .. before.Reads.Select((r, i) => Restored(r, After[to].Reads[i], now[to].Reads[i])),
                    .. now[patch].Reads.Skip(After[patch].Reads.Length)] };
            }),
        ];

        private static PatchRead Restored(PatchRead before, PatchRead after, PatchRead now) =>
            now.Exclusion == after.Exclusion ? before : before with { Exclusion = now.Exclusion };
    }

    /// <summary>The step when the reads of each patch stand in another one.</summary>
    public Step Moved(Func<int, int> to) => this switch
    {
        Read read => read with { PatchIndex = to(read.PatchIndex) },
        LeftOut leftOut => leftOut with { PatchIndex = to(leftOut.PatchIndex) },
        _ => this,
    };
}
