namespace Acquire.Analysis.Causes;

/// <summary>Differences of density in the three colours.</summary>
/// <param name="Red">Red density.</param>
/// <param name="Green">Green density.</param>
/// <param name="Blue">Blue density.</param>
public readonly record struct ColourSizes(double Red, double Green, double Blue)
{
    /// <summary>The difference in one channel; a visual density follows green, which is most of it.</summary>
    public double this[Channel channel] => channel switch
    {
        Channel.Red => Red,
        Channel.Green or Channel.Visual => Green,
        Channel.Blue => Blue,
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>The same in all colours.</summary>
    public static ColourSizes All(double size) => new(size, size, size);

    /// <summary>The sum by colour.</summary>
    public static ColourSizes operator +(ColourSizes left, ColourSizes right) =>
        new(left.Red + right.Red, left.Green + right.Green, left.Blue + right.Blue);
}
