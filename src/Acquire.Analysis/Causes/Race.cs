namespace Acquire.Analysis.Causes;

/// <summary>Everything that may be behind a strip, weighed against everything else.</summary>
internal sealed class Race(Evidence evidence, StripRecord record, CauseContext context)
{
    // What a strip may be before it is looked at. Common practice, no source: most strips are in order, most of the others have one fault.
    private const double Nothing = 0.47;
    private const double OneFault = 0.32;
    private const double TwoFaults = 0.08;
    private const double Else = 0.06;
    private const double Reading = 0.03;
    private const double Damaged = 0.0125;
    private const double OtherLot = 0.015;
    private const double OtherMaker = 0.0075;
    private const double OtherStatus = 0.005;

    /// <summary>Weighs all that is not ruled out.</summary>
    /// <param name="faults">The faults of the strip's process.</param>
    public RaceResult Run(ImmutableArray<FaultSignature> faults)
    {
        var all = Candidates([.. faults.Where(f => !context.RuledOut.Contains(f.Key)).Select(f => new FaultPattern(evidence, f))])
            .Where(c => !c.Of.Any(p => context.RuledOut.Contains(p.Key)))
            .Select(c =>
            {
                ImmutableArray<(Possibility Of, double Factor, string Sentence)> circumstances =
                    [.. c.Of.SelectMany(p => Circumstance.Of(p, context).Select(x => (p, x.Factor, x.Sentence)))];
                return (Candidate: c, Log: c.LogPrior + c.Log + circumstances.Sum(x => Math.Log(x.Factor)), Circumstances: circumstances);
            })
            .ToList();
        var nothing = Math.Log(Nothing) + evidence.LogOfNothing;
        var sum = Evidence.LogSum([nothing, .. all.Select(a => a.Log)]);
        return new RaceResult(
            evidence, Math.Exp(nothing - sum),
            [
                .. all.Select(a => new WeighedCandidate(
                    a.Candidate, Math.Exp(a.Log - sum), [.. a.Circumstances.Select(c => (c.Of, c.Sentence))])),
            ]);
    }

    private IEnumerable<Candidate> Candidates(ImmutableArray<FaultPattern> patterns)
    {
        var broad = new BroadPatterns(evidence);
        return FaultCandidates.Single(evidence, patterns, OneFault)
            .Concat(FaultCandidates.Pairs(evidence, patterns, TwoFaults))
            .Concat(new ReadingCandidates(evidence, record, broad.LittleOff()).All(Reading, Damaged))
            .Concat(Foreign(broad))
            .Append(broad.SomethingElse(Else));
    }

    private IEnumerable<Candidate> Foreign(BroadPatterns broad)
    {
        // What changed since a strip of the same lot does not depend on its aims.
        if (context.Before is null)
        {
            yield return broad.OtherLot(context.OtherLots, OtherLot);
        }

        yield return broad.OtherMaker(OtherMaker);
        yield return broad.OtherStatus(OtherStatus);
    }
}

/// <summary>How the race ended.</summary>
/// <param name="Nothing">Probability that nothing but natural scatter is at work.</param>
internal sealed record RaceResult(Evidence Evidence, double Nothing, ImmutableArray<WeighedCandidate> Candidates);

/// <summary>A hypothesis with its probability and what history and books said of it.</summary>
internal sealed record WeighedCandidate(
    Candidate Candidate, double Probability, ImmutableArray<(Possibility Of, string Sentence)> Circumstances);
