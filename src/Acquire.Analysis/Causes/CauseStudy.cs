using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Causes;

/// <summary>What may have caused the deviations of a strip: ranked possibilities with their reasons, never an oracle.</summary>
/// <param name="NothingProbability">Probability that nothing but natural scatter is at work; 1 when nothing can be weighed.</param>
/// <param name="Groups">Families of causes, the likeliest first; empty when nothing happened. As two can be at work at once, their
/// probabilities may add up to more than 1.</param>
/// <param name="Pairs">Families at work two at once, the likeliest first; those that are hardly probable are left out.</param>
/// <param name="Steps">What to do, in the trade's order of work; empty when nothing happened.</param>
/// <param name="WhyNone">Why nothing is weighed; null when it was.</param>
public sealed record CauseStudy(
    double NothingProbability, ImmutableArray<CauseGroup> Groups, ImmutableArray<CausePair> Pairs, ImmutableArray<string> Steps,
    string? WhyNone)
{
    /// <summary>Less probable causes are not worth a line.</summary>
    private const double WorthNaming = 0.01;

    /// <summary>What a zero usually moves by from one setting to the next, standard deviation in density; counts where the store does not
    /// know it. Judgement.</summary>
    private const double UsualZero = 0.005;

    /// <summary>Less probable pairs are not worth a line.</summary>
    private const double WorthPairing = 0.05;

    /// <summary>Whether natural scatter explains the strip better than any family of causes.</summary>
    public bool NothingHappened => Groups.IsEmpty;

    /// <summary>Whether the strip contradicts every known cause, so that something else is likelier than any of them.</summary>
    public bool FitsNothing => Groups is [{ Family.Origin: FaultOrigin.Unknown }, ..];

    /// <summary>Every cause, the likeliest first.</summary>
    public IEnumerable<Cause> Ranked => Groups.SelectMany(g => g.Causes).OrderByDescending(c => c.Probability);

    /// <summary>Weighs every known fault of the strip's process, mistakes of reading, strips that do not belong to their aims, and
    /// something else.</summary>
    /// <param name="record">The strip, with the aims it was judged by.</param>
    /// <param name="context">What history and books add.</param>
    public static CauseStudy Of(StripRecord record, CauseContext context)
    {
        ImmutableArray<FaultSignature> faults = [.. FaultSignatures.Of(record.JudgedBy.Key).Where(s => s.Shows)];
        var ground = context.Ground(record);
        var (cells, scatter) = (Cells(record, faults, ground), context.Scatter);
        var zero = Zero(ground.Zero, Square(ground.Zero.OfReference));
        if (context.Before is { } before)
        {
            // Both strips scatter.
            (cells, scatter) = (Since(cells, Cells(before, faults, context.Ground(before))),
                scatter with { Run = Math.Sqrt(2) * scatter.Run, Own = Math.Sqrt(2) * scatter.Own });
            // The reference has no part in a change.
            zero = Zero(ground.Zero, Square(context.Ground(before).Zero.OfStrip));
        }

        return faults.IsEmpty ? None($"No fault signatures are known for {record.JudgedBy.Name}.")
            : cells.IsEmpty ? None("The strip has no patch with both a mean and an aim that a signature speaks of.")
            : Rank(new Race(new Evidence(cells, scatter, zero), record, context).Run(faults), context);
    }

    // An assumed zero is wide, so that a verdict keeps its word; in a race it would explain away what lies over the whole strip.
    private static double Zero(ZeroBetween zero, double ofOther) =>
        zero.IsAssumed ? UsualZero * UsualZero : Square(zero.OfStrip) + ofOther;

    private static double Square(double value) => value * value;

    private static CauseStudy None(string why) => new(1, [], [], [], why);

    private static ImmutableArray<EvidenceCell> Cells(
        StripRecord record, ImmutableArray<FaultSignature> signatures, JudgingGround ground)
    {
        var strip = new ComparedStrip(record, ground);
        var known = signatures.SelectMany(s => s.Sizes.Keys).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return
        [
            .. from mean in record.Means
               where known.Contains(mean.PatchKey)
               let compared = strip.Patch(mean.PatchKey, mean.Channel)
               where compared is { Value: not null, Aim: not null, Errors: not null }
               select new EvidenceCell(
                   mean.PatchKey, record.Layout.Find(mean.PatchKey)?.Name ?? mean.PatchKey, mean.Channel, compared.Aim!.Value,
                   compared.Value!.Value - compared.Aim!.Value, compared.Errors!.Variance),
        ];
    }

    private static ImmutableArray<EvidenceCell> Since(ImmutableArray<EvidenceCell> cells, ImmutableArray<EvidenceCell> before) =>
    [
        .. from cell in cells
           join then in before on (cell.PatchKey, cell.Channel) equals (then.PatchKey, then.Channel)
           select cell with { Deviation = cell.Deviation - then.Deviation, Variance = cell.Variance + then.Variance },
    ];

    private static CauseStudy Rank(RaceResult race, CauseContext context)
    {
        ImmutableArray<CauseGroup> groups =
        [
            .. race.Candidates.SelectMany(c => c.Candidate.Of).Distinct().GroupBy(p => p.Family).Select(family => new CauseGroup(
                    family.Key,
                    // Two of a family are never at work at once, so each hypothesis counts once.
                    race.Candidates.Where(c => c.Candidate.Of.Any(p => p.Family == family.Key)).Sum(c => c.Probability),
                    [
                        .. family.Select(p => Cause.From(p, race))
                            .OrderByDescending(c => c.Probability)
                            .Where(c => c.Probability >= WorthNaming),
                    ]))
                .Where(g => !g.Causes.IsEmpty)
                .OrderByDescending(g => g.Probability),
        ];
        // A list of causes for a strip in order would send the user to mend what works.
        if (groups is [] || race.Nothing >= groups[0].Probability)
        {
            return new CauseStudy(race.Nothing, [], [], [], null);
        }

        ImmutableArray<CausePair> pairs =
        [
            .. race.Candidates
                .Where(c => c.Candidate.Of.Length == 2)
                .Select(c => (
                    Families: c.Candidate.Of.Select(p => p.Family).OrderBy(f => f.Key, StringComparer.Ordinal).ToList(), c.Probability))
                .GroupBy(c => (c.Families[0], c.Families[1]), c => c.Probability)
                .Select(g => new CausePair(g.Key.Item1, g.Key.Item2, g.Sum()))
                .Where(p => p.Probability >= WorthPairing)
                .OrderByDescending(p => p.Probability),
        ];
        return new CauseStudy(race.Nothing, groups, pairs, OrderOfWork.Of(groups, race.Evidence.Cells, context), null);
    }
}

/// <summary>One possible cause with what speaks for it and against it.</summary>
/// <param name="Of">What it is.</param>
/// <param name="Probability">Probability that it is at work, alone or beside another; a ranking, not an oracle.</param>
/// <param name="Size">How large it would be, in units of the size often met.</param>
/// <param name="Supporting">Observations that it explains.</param>
/// <param name="Contradicting">Observations that it does not explain, or that it would have made otherwise.</param>
/// <param name="Circumstances">What strip, history and books add, each in a sentence.</param>
public sealed record Cause(
    Possibility Of, double Probability, double Size, ImmutableArray<Observation> Supporting,
    ImmutableArray<Observation> Contradicting, ImmutableArray<string> Circumstances)
{
    internal static Cause From(Possibility what, RaceResult race)
    {
        var with = race.Candidates.Where(c => c.Candidate.Of.Contains(what)).OrderByDescending(c => c.Probability).ToList();
        var (best, _, circumstances) = with[0];
        var other = best.Of.FirstOrDefault(p => p != what);
        ImmutableArray<string> sentences =
        [
            best.Detail,
            other is null ? "" : $"Fits best together with: {other.Name.Split(':')[0]}.",
            .. circumstances.Where(c => c.Of == what).Select(c => c.Sentence),
        ];
        return new Cause(
            what, with.Sum(c => c.Probability), best.Sizes[best.Of.IndexOf(what)], Observation.Of(race.Evidence, best, supporting: true),
            Observation.Of(race.Evidence, best, supporting: false), [.. sentences.Where(s => s.Length > 0)]);
    }
}

/// <summary>Two faults that are at work at once, by their families.</summary>
/// <param name="Probability">That both are.</param>
public sealed record CausePair(FaultFamily First, FaultFamily Second, double Probability);

/// <summary>One patch and channel held against a cause. All numbers are densities.</summary>
/// <param name="PatchName">The trade's name of the patch.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="Expected">What the cause would make of it.</param>
/// <param name="Scatter">Standard deviation of what reading and process scatter by.</param>
public sealed record Observation(string PatchName, Domain.Densitometry.Channel Channel, double Deviation, double Expected, double Scatter)
{
    /// <summary>An observation supports a cause that would move it clearly, when it has moved so; it contradicts a cause when it lies
    /// clearly elsewhere. What may make anything is neither supported nor contradicted.</summary>
    internal static ImmutableArray<Observation> Of(Evidence evidence, Candidate candidate, bool supporting) =>
        candidate.Expected is not { } makes ? [] :
        [
            .. from pair in evidence.Cells.Select((cell, i) => (Cell: cell, Scatter: evidence.ScatterOf(i), Makes: makes[i],
                   Slack: candidate.Slack?[i] ?? 0))
               let off = Math.Abs(pair.Cell.Deviation - pair.Makes) / Math.Sqrt((pair.Scatter * pair.Scatter) + (pair.Slack * pair.Slack))
               where supporting
                   ? off < 2 && Math.Abs(pair.Makes) > 2 * pair.Scatter && Math.Sign(pair.Makes) == Math.Sign(pair.Cell.Deviation)
                   : off > 2.5
               orderby supporting ? -Math.Abs(pair.Makes) / pair.Scatter : -off
               select new Observation(pair.Cell.PatchName, pair.Cell.Channel, pair.Cell.Deviation, pair.Makes, pair.Scatter),
        ];
}

/// <summary>Causes of one family, which the strip alone hardly tells apart.</summary>
/// <param name="Probability">That one of the family is at work, alone or beside another.</param>
/// <param name="Causes">Its causes, the likeliest first.</param>
public sealed record CauseGroup(FaultFamily Family, double Probability, ImmutableArray<Cause> Causes);
