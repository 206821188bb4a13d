namespace TruthBenchmark.Claims;

/// <summary>The band in which a figure is to lie.</summary>
internal sealed record Band(double Least, double Most, string Text)
{
    /// <summary>For figures that are shown, and of which nothing is asked.</summary>
    public static Band Shown { get; } = new(double.NegativeInfinity, double.PositiveInfinity, "");

    /// <summary>For what must not happen once.</summary>
    public static Band Never { get; } = new(double.NegativeInfinity, 0, "never");

    public static Band AtMost(double most) => new(double.NegativeInfinity, most, FormattableString.Invariant($"≤ {most:0.0##}"));

    public static Band AtLeast(double least) => new(least, double.PositiveInfinity, FormattableString.Invariant($"≥ {least:0.0##}"));

    public static Band Between(double least, double most) =>
        new(least, most, FormattableString.Invariant($"{least:0.0##}…{most:0.0##}"));

    /// <summary>How far outside a figure lies; 0 inside.</summary>
    public double Outside(double figure) => Math.Max(0, Math.Max(Least - figure, figure - Most));
}

/// <summary>How a figure stands against its band.</summary>
internal enum Standing
{
    Met,
    WithinError,
    Missed,
    Shown,
}

/// <summary>One claim with what was found.</summary>
/// <param name="Id">Group and number, for whoever wants to speak of it.</param>
/// <param name="Error">Standard error of the figure.</param>
internal sealed record Claim(string Id, string What, Band Aim, double Figure, double Error, int Draws)
{
    /// <summary>Words that stand in place of a figure, such as "not offered yet".</summary>
    public string? Instead { get; init; }

    public Standing Standing =>
        Instead is not null ? Standing.Missed
        : Aim == Band.Shown ? Standing.Shown
        : double.IsNaN(Figure) ? Standing.Missed
        : Aim.Outside(Figure) is var off && off == 0 ? Standing.Met
        : Aim != Band.Never && off <= 2 * Error ? Standing.WithinError
        : Standing.Missed;

    /// <summary>A claim that the product has no way to ask about yet.</summary>
    public static Claim NotOffered(string id, string what, Band aim) => new(id, what, aim, double.NaN, double.NaN, 0)
    {
        Instead = "not offered yet",
    };
}
