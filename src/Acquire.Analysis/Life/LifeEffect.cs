namespace Acquire.Analysis.Life;

/// <summary>What something did to a parameter.</summary>
/// <param name="Name">What, for the user.</param>
/// <param name="Size">Change of the deviation.</param>
/// <param name="Margin">Half-width of its 95 % interval.</param>
/// <param name="P">Chance of so large a change when there is none; null without degrees of freedom.</param>
/// <param name="LimitShare">Size against the width of the action limit, 1 for the whole way from aim to limit; null without a limit.</param>
public sealed record LifeEffect(string Name, double Size, double Margin, double? P, double? LimitShare)
{
    /// <summary>Whether its interval leaves out 0.</summary>
    public bool IsClear => Math.Abs(Size) > Margin;

    internal static LifeEffect Of(string name, double size, double margin, double? p, double limitWidth) =>
        new(name, size, margin, p, limitWidth > 0 ? Math.Abs(size) / limitWidth : null);
}
