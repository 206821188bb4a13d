using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Uncertainty;

/// <summary>The uncertainty budget of a result whose components are independent of each other (JCGM 100:2008, GUM). An error that several
/// inputs share is one component: its sensitivities are added before it is squared, so what cancels is gone.</summary>
public sealed record Budget(ImmutableArray<Component> Components)
{
    /// <summary>Combined standard uncertainty, in the result's unit.</summary>
    public double StandardUncertainty => Math.Sqrt(Components.Sum(c => c.Contribution * c.Contribution));

    /// <summary>Effective degrees of freedom by Welch and Satterthwaite (GUM G.4.1); infinite when every component is taken as given. The
    /// formula wants estimates that are independent, so components of one estimate count as one, with the fewest degrees of
    /// freedom.</summary>
    public double DegreesOfFreedom
    {
        get
        {
            var doubt = Components.Where(c => c.Contribution != 0 && !double.IsPositiveInfinity(c.DegreesOfFreedom))
                .GroupBy(c => c.Estimate ?? (object)c)
                .Sum(g => Math.Pow(g.Sum(c => c.Contribution * c.Contribution), 2) / g.Min(c => c.DegreesOfFreedom));
            return doubt == 0 ? double.PositiveInfinity : Math.Pow(StandardUncertainty, 4) / doubt;
        }
    }

    /// <summary>Coverage factor of a two-sided interval. Degrees of freedom are cut to a whole number
    /// first, as GUM G.4.2 has it; below 1 they count as 1.</summary>
    public double CoverageFactor(double confidence = 0.95)
    {
        var freedom = DegreesOfFreedom;
        return Quantiles.Student((1 + confidence) / 2, double.IsPositiveInfinity(freedom) ? freedom : Math.Max(1, Math.Floor(freedom)));
    }
}

/// <summary>One cause of doubt in a result, and what it contributes.</summary>
/// <param name="Name">What it is, for the user.</param>
/// <param name="Contribution">Its standard uncertainty times its sensitivity, in
/// the result's unit; the sign is that of the sensitivity.</param>
/// <param name="DegreesOfFreedom">How well the standard uncertainty is known; infinite when it is taken as given.</param>
public sealed record Component(string Name, double Contribution, double DegreesOfFreedom = double.PositiveInfinity)
{
    public Doubt Of { get; init; }

    /// <summary>Whether its size is assumed, nothing or too little being known.</summary>
    public bool IsAssumed { get; init; }

    /// <summary>
    /// What its size was estimated by: components of one estimate are too large or too small together. Null for one of its own.
    /// </summary>
    public string? Estimate { get; init; }
}

/// <summary>What a component is of.</summary>
public enum Doubt
{
    Other,

    /// <summary>How re-placed reads of the strip scatter; more reads bring it down.</summary>
    Reads,

    /// <summary>The display's last digit.</summary>
    Step,

    /// <summary>The aim: the same for every strip of the lot.</summary>
    Reference,

    /// <summary>The instrument's zero, which is set anew from time to time.</summary>
    Zero,
}
