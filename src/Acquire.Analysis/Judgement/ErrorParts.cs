using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>One variance, and what is known of it.</summary>
/// <param name="Variance">In the square of the deviation's unit.</param>
/// <param name="Freedom">Degrees of freedom that it is known with.</param>
/// <param name="Estimate">What it was estimated by; null for something of its own.</param>
/// <param name="IsAssumed">Whether an assumption has weight in it.</param>
internal readonly record struct ErrorPart(double Variance, double Freedom, string? Estimate, bool IsAssumed)
{
    /// <summary>Both together; where they rest on different estimates, the one that is known worse counts for both.</summary>
    public static ErrorPart operator +(ErrorPart left, ErrorPart right) => left.Variance == 0 ? right : right.Variance == 0 ? left : new(
        left.Variance + right.Variance,
        Math.Min(left.Freedom, right.Freedom),
        left.Freedom <= right.Freedom ? left.Estimate : right.Estimate,
        left.IsAssumed || right.IsAssumed);

    public ErrorPart Times(double square) => this with { Variance = Variance * square };

    public Component ToComponent(
        Doubt of,
        string name) => new(IsAssumed ? $"{name}, assumed" : name, Math.Sqrt(Variance), Variance > 0 ? Freedom : double.PositiveInfinity)
    {
        Of = of,
        Estimate = Estimate,
        IsAssumed = IsAssumed,
    };
}

/// <summary>What a deviation may be wrong by, cause by cause.</summary>
/// <param name="Reading">Of re-placed reads; goes down with their number.</param>
/// <param name="Step">Variance of the display's last digit, where reads do not scatter across it.</param>
/// <param name="Reference">Of the aim: the same for every strip of the lot.</param>
/// <param name="ZeroShare">How much of a common error of zero the deviation has: 1 for
/// a patch, 0 for a difference of two, which cancels it.</param>
/// <param name="Least">
/// Variance of reading the strip as far as it was seen: where how reads repeat is assumed, the display step's alone.
/// </param>
internal sealed record ErrorParts(ErrorPart Reading, double Step, ErrorPart Reference, double ZeroShare, double Least)
{
    /// <summary>Variance of reading the strip; the zero is not in it.</summary>
    public double OfStrip => Reading.Variance + Step;

    /// <summary>That with the aim's.</summary>
    public double Variance => OfStrip + Reference.Variance;

    /// <summary>Both errors together, of what is taken away from each other.</summary>
    public static ErrorParts? operator -(ErrorParts? left, ErrorParts? right) => left is null || right is null ? null : new(
        left.Reading + right.Reading, left.Step + right.Step, left.Reference + right.Reference, left.ZeroShare - right.ZeroShare,
        left.Least + right.Least);

    /// <summary>The errors of a function of several patches, by its derivatives.</summary>
    /// <param name="onStrip">Derivative by each patch on the strip.</param>
    /// <param name="onAims">Derivative by each patch at the aims.</param>
    public static ErrorParts OfFunction(
        ImmutableArray<ErrorParts> patches, ImmutableArray<double> onStrip, ImmutableArray<double> onAims) => new(
        Sum(patches, onStrip, p => p.Reading),
        patches.Zip(onStrip, (p, d) => d * d * p.Step).Sum(),
        Sum(patches, onAims, p => p.Reference),
        // Derivatives by differences are good to six digits; what cancels to that is gone.
        Math.Abs(onStrip.Sum()) < 1e-5 ? 0 : onStrip.Sum(),
        patches.Zip(onStrip, (p, d) => d * d * p.Least).Sum());

    /// <summary>The budget of the deviation.</summary>
    /// <param name="zero">How far the zero may have moved between reference and strip; null where it is no part of the deviation.</param>
    public Budget ToBudget(ZeroBetween? zero) => new(
    [
        Reading.ToComponent(Doubt.Reads, "re-placed reads"),
        new Component("display step", Math.Sqrt(Step)) { Of = Doubt.Step },
        Reference.ToComponent(Doubt.Reference, "reading of the reference strip"),
        .. zero is null ? [] : (Component[])[zero.ToComponent(ZeroShare)],
    ]);

    private static ErrorPart Sum(
        ImmutableArray<ErrorParts> patches, ImmutableArray<double> derivatives, Func<ErrorParts, ErrorPart> part) =>
        patches.Zip(derivatives, (p, d) => part(p).Times(d * d)).Aggregate((a, b) => a + b);
}
