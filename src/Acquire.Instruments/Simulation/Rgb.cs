namespace Acquire.Instruments.Simulation;

/// <summary>Three densities, or differences of densities, of the colours.</summary>
public readonly record struct Rgb(double Red, double Green, double Blue)
{
    /// <summary>The same in all three.</summary>
    public static Rgb All(double value) => new(value, value, value);

    /// <summary>The value of one colour.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The channel is no colour.</exception>
    public double this[Channel channel] => channel switch
    {
        Channel.Red => Red,
        Channel.Green => Green,
        Channel.Blue => Blue,
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>The sum by colour.</summary>
    public static Rgb operator +(Rgb left, Rgb right) => new(left.Red + right.Red, left.Green + right.Green, left.Blue + right.Blue);

    /// <summary>The difference by colour.</summary>
    public static Rgb operator -(Rgb left, Rgb right) => new(left.Red - right.Red, left.Green - right.Green, left.Blue - right.Blue);

    /// <summary>A multiple.</summary>
    public static Rgb operator *(double factor, Rgb value) => new(factor * value.Red, factor * value.Green, factor * value.Blue);
}
