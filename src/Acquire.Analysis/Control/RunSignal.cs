namespace Acquire.Analysis.Control;

/// <summary>A run rule broken at a point.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Index">Index of the last point of the pattern, from 0.</param>
/// <param name="Side">Where the pattern lies or goes.</param>
public readonly record struct RunSignal(RunRule Rule, int Index, Side Side)
{
    /// <summary>Index of the first point of the pattern.</summary>
    public int First => Index - Rule.Span() + 1;

    /// <summary>Finds every point at which a rule is broken.</summary>
    /// <param name="standardized">Distances from the centre in sigmas, in order.</param>
    /// <param name="set">The rules.</param>
    public static ImmutableArray<RunSignal> Find(IEnumerable<double> standardized, ImmutableArray<RunRule> set)
    {
        ArgumentNullException.ThrowIfNull(standardized);
        var signals = ImmutableArray.CreateBuilder<RunSignal>();
        var state = default(RunRuleState);
        foreach (var (index, z) in standardized.Index())
        {
            state = state.Next(z);
            foreach (var rule in state.Broken(set))
            {
                signals.Add(new RunSignal(rule, index, state.SideOf(rule)));
            }
        }

        return signals.ToImmutable();
    }
}
