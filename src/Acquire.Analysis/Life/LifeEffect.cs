namespace Acquire.Analysis.Life;

/// <summary>What something did to a parameter.</summary>
/// <param name="Name">What, for the user.</param>
/// <param name="Size">Change of the deviation.</param>
/// <param name="Margin">Half-width of its 95 % interval.</param>
/// <param name="P">Chance of so large a change when there is none; null without degrees of freedom.</param>
/// <param name="LimitShare">Size against the width of the action limit, 1 for the whole way from aim to limit; null without a limit.</param>
public sealed record LifeEffect(string Name, double Size, double Margin, double? P, double? LimitShare)
{
    /// <summary>What kind of thing it is of: age, area, storage, line, method, lot, ageing by storage.</summary>
    public required string Factor { get; init; }

    /// <summary>The level of a factor; null for age and area.</summary>
    public string? Level { get; init; }

    /// <summary>The level that it is compared with; null for age and area.</summary>
    public string? Against { get; init; }

    /// <summary>Whether it tells of strips and not of what the user does: lots differ by the errors of their aims.</summary>
    public bool IsNuisance => Factor == LifeDesign.Lot;

    /// <summary>Whether its interval leaves out 0.</summary>
    public bool IsClear => Math.Abs(Size) > Margin;
}
