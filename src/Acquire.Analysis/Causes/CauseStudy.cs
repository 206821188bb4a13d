using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Causes;

/// <summary>What may have caused the deviations of a strip: ranked possibilities with their reasons, never an oracle.</summary>
/// <param name="NothingProbability">Probability that nothing but natural scatter is at work; 1 when nothing can be weighed.</param>
/// <param name="Groups">Families of causes, the likeliest first; empty when nothing happened.</param>
/// <param name="Steps">What to do, in the trade's order of work; empty when nothing happened.</param>
/// <param name="WhyNone">Why nothing is weighed; null when it was.</param>
public sealed record CauseStudy(double NothingProbability, ImmutableArray<CauseGroup> Groups, ImmutableArray<string> Steps, string? WhyNone)
{
    /// <summary>How probable it is, before looking, that a strip shows natural scatter only.</summary>
    private const double PriorOfNothing = 0.5;

    /// <summary>Less probable causes are not worth a line.</summary>
    private const double WorthNaming = 0.01;

    /// <summary>Whether natural scatter explains the strip well enough.</summary>
    public bool NothingHappened => NothingProbability >= 0.5;

    /// <summary>Every cause, the likeliest first.</summary>
    public IEnumerable<Cause> Ranked => Groups.SelectMany(g => g.Causes).OrderByDescending(c => c.Probability);

    /// <summary>Weighs every known fault of the strip's process.</summary>
    /// <param name="record">The strip, with the aims it was judged by.</param>
    /// <param name="context">What history and books add.</param>
    public static CauseStudy Of(StripRecord record, CauseContext context)
    {
        var signatures =
            FaultSignatures.Of(record.JudgedBy.Key).Where(s => s.Shows && !context.RuledOut.Contains(s.Key)).ToImmutableArray();
        var (cells, scatter) = (Cells(record, signatures), context.Scatter);
        if (context.Before is { } before)
        {
            // Both strips scatter.
            (cells, scatter) = (Since(cells, Cells(before, signatures)),
                scatter with { Run = Math.Sqrt(2) * scatter.Run, Own = Math.Sqrt(2) * scatter.Own });
        }

        return signatures.IsEmpty ? None($"No fault signatures are known for {record.JudgedBy.Name}.")
            : cells.IsEmpty ? None("The strip has no patch with both a mean and an aim that a signature speaks of.")
            : Weigh(new Evidence(cells, scatter), signatures, context);
    }

    private static CauseStudy None(string why) => new(1, [], [], why);

    private static ImmutableArray<EvidenceCell> Cells(StripRecord record, ImmutableArray<FaultSignature> signatures)
    {
        var strip = new ComparedStrip(record, JudgingGround.Of(record));
        var known = signatures.SelectMany(s => s.Sizes.Keys).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return
        [
            .. from mean in record.Means
               where known.Contains(mean.PatchKey)
               let compared = strip.Patch(mean.PatchKey, mean.Channel)
               where compared is { Value: not null, Aim: not null, Errors: not null }
               select new EvidenceCell(
                   mean.PatchKey, record.Layout.Find(mean.PatchKey)?.Name ?? mean.PatchKey, mean.Channel,
                   compared.Value!.Value - compared.Aim!.Value, compared.Errors!.Variance),
        ];
    }

    private static ImmutableArray<EvidenceCell> Since(ImmutableArray<EvidenceCell> cells, ImmutableArray<EvidenceCell> before) =>
    [
        .. from cell in cells
           join then in before on (cell.PatchKey, cell.Channel) equals (then.PatchKey, then.Channel)
           select cell with { Deviation = cell.Deviation - then.Deviation, Variance = cell.Variance + then.Variance },
    ];

    private static CauseStudy Weigh(Evidence evidence, ImmutableArray<FaultSignature> signatures, CauseContext context)
    {
        // Shares of one whole: a process with more known faults must not look likelier to have one.
        var weights = signatures.Sum(s => s.Commonness);
        var weighed = signatures.Select(s =>
        {
            var (log, size) = evidence.Weigh(s);
            var circumstances = Circumstance.Of(s, context).ToImmutableArray();
            var prior = Math.Log((1 - PriorOfNothing) * s.Commonness / weights);
            return (Signature: s, Size: size, Log: prior + log + circumstances.Sum(c => Math.Log(c.Factor)), Circumstances: circumstances);
        }).ToList();
        // Logarithms, less the largest: likelihoods of a whole strip would vanish as plain numbers.
        var nothing = Math.Log(PriorOfNothing) + evidence.LogOfNothing();
        var largest = Math.Max(nothing, weighed.Max(w => w.Log));
        var sum = Math.Exp(nothing - largest) + weighed.Sum(w => Math.Exp(w.Log - largest));
        var share = Math.Exp(nothing - largest) / sum;
        // A list of causes for a strip in order would send the user to mend what works.
        if (share >= 0.5)
        {
            return new CauseStudy(share, [], [], null);
        }

        var causes = weighed.Select(w => new Cause(
            w.Signature, Math.Exp(w.Log - largest) / sum, w.Size, Observations(evidence, w.Signature, w.Size, supporting: true),
            Observations(evidence, w.Signature, w.Size, supporting: false),
            [.. w.Circumstances.Select(c => c.Sentence).Where(s => s.Length > 0)]));
        ImmutableArray<CauseGroup> groups =
        [
            .. causes.GroupBy(c => c.Signature.Family)
                .Select(g => new CauseGroup(
                    g.Key, g.Sum(c => c.Probability),
                    [.. g.OrderByDescending(c => c.Probability).Where(c => c.Probability >= WorthNaming)]))
                .Where(g => !g.Causes.IsEmpty)
                .OrderByDescending(g => g.Probability),
        ];
        return new CauseStudy(share, groups, OrderOfWork.Of(groups, evidence.Cells, context), null);
    }

    /// <summary>An observation supports a cause that would move it clearly, when it has moved so; it
    /// contradicts a cause when it lies clearly elsewhere.</summary>
    private static ImmutableArray<Observation> Observations(Evidence evidence, FaultSignature signature, double size, bool supporting) =>
    [
        .. from pair in evidence.Cells.Select((cell, i) => (Cell: cell, Scatter: evidence.ScatterOf(i)))
           let expected = size * signature.Size(pair.Cell.PatchKey, pair.Cell.Channel)
           let roughness = Evidence.RoughnessOf(expected)
           let off = Math.Abs(pair.Cell.Deviation - expected) / Math.Sqrt((pair.Scatter * pair.Scatter) + (roughness * roughness))
           where supporting
               ? off < 2 && Math.Abs(expected) > 2 * pair.Scatter && Math.Sign(expected) == Math.Sign(pair.Cell.Deviation)
               : off > 2.5
           orderby supporting ? -Math.Abs(expected) / pair.Scatter : -off
           select new Observation(pair.Cell.PatchName, pair.Cell.Channel, pair.Cell.Deviation, expected, pair.Scatter),
    ];
}

/// <summary>One possible cause with what speaks for it and against it.</summary>
/// <param name="Signature">The fault.</param>
/// <param name="Probability">Probability among everything considered, nothing at all included; a ranking, not an oracle.</param>
/// <param name="Size">How large it would be, in units of the size often met.</param>
/// <param name="Supporting">Observations that it explains.</param>
/// <param name="Contradicting">Observations that it does not explain, or that it would have made otherwise.</param>
/// <param name="Circumstances">What history and books add, each in a sentence.</param>
public sealed record Cause(
    FaultSignature Signature, double Probability, double Size, ImmutableArray<Observation> Supporting,
    ImmutableArray<Observation> Contradicting, ImmutableArray<string> Circumstances);

/// <summary>One patch and channel held against a cause. All numbers are densities.</summary>
/// <param name="PatchName">The trade's name of the patch.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="Expected">What the cause would make of it.</param>
/// <param name="Scatter">Standard deviation of what reading and process scatter by.</param>
public sealed record Observation(string PatchName, Domain.Densitometry.Channel Channel, double Deviation, double Expected, double Scatter);

/// <summary>Causes of one family, which the strip alone hardly tells apart.</summary>
/// <param name="Probability">Of the family as a whole.</param>
/// <param name="Causes">Its causes, the likeliest first.</param>
public sealed record CauseGroup(FaultFamily Family, double Probability, ImmutableArray<Cause> Causes);
