using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>A strip compared with its aims and limits.</summary>
/// <param name="Results">Every parameter of the process sheet in every channel, in the sheet's order.</param>
/// <param name="Repeatability">
/// How reads repeat, by channel: the strip's own and those of the repeatability test in force; a channel of which nothing is known is
/// absent.
/// </param>
public sealed record StripJudgement(ImmutableArray<ParameterResult> Results, ImmutableDictionary<Channel, PooledDeviation> Repeatability)
{
    /// <summary>The worst zone of any result; null when none has a zone. Look at <see cref="Unjudged"/> too.</summary>
    public Zone? Overall => Results.Max(r => r.Zone);

    /// <summary>
    /// The worst verdict: out of control where anything is, else undecided where anything is; null when nothing has a verdict.
    /// </summary>
    public Verdict? Verdict => Results.Max(r => r.Verdict?.Verdict);

    /// <summary>The results that lie in the worst zone, in order; empty when that is inside, or when none has a zone.</summary>
    public ImmutableArray<ParameterResult> Worst =>
        Overall is { } worst and not Zone.Inside ? [.. Results.Where(r => r.Zone == worst)] : [];

    /// <summary>The results without a zone, of what is on the strip; each says why.</summary>
    public ImmutableArray<ParameterResult> Unjudged => [.. Results.Where(r => r.Zone is null && r.OnStrip)];

    /// <summary>The parameters of the process sheet that need patches which this strip has not.</summary>
    public ImmutableArray<Parameter> NotOnStrip => [.. Results.Where(r => !r.OnStrip).Select(r => r.Parameter).Distinct()];
}
