namespace Acquire.Analysis.Causes;

/// <summary>
/// A row of the tables: the trade speaks of D-min, LD, contrast (HD − LD) and retained silver (D-max B − yellow B); the patches follow
/// from these. D-max moves as HD does, the yellow patch as D-max in blue and as LD, weakly, in red and green.
/// </summary>
internal static class ColourNegativeRow
{
    public const string FromMemory = "Common practice, from memory, not verified against a manual; sizes are rough.";

    public static ColourSizes None { get; }

    public static ColourSizes All(double size) => ColourSizes.All(size);

    public static ColourSizes Rgb(double red, double green, double blue) => new(red, green, blue);

    public static FaultSignature Row(
        string key,
        string name,
        ColourSizes dmin,
        ColourSizes low,
        ColourSizes contrast,
        DirectionConfidence confidence,
        FaultOnset onset,
        string firstCheck,
        FaultOrigin origin = FaultOrigin.Process,
        ColourSizes? dmax = null,
        ColourSizes? yellow = null)
    {
        var high = low + contrast;
        var dark = dmax ?? high;
        return new FaultSignature(
            key,
            name,
            "c41",
            origin,
            ImmutableDictionary.CreateRange(StringComparer.OrdinalIgnoreCase, new Dictionary<string, ColourSizes>
            {
                ["dmin"] = dmin,
                ["ld"] = low,
                ["hd"] = high,
                ["dmax"] = dark,
                ["yellow"] = yellow ?? new ColourSizes((dmin.Red + low.Red) / 2, (dmin.Green + low.Green) / 2, dark.Blue),
            }),
            confidence,
            onset,
            firstCheck,
            FromMemory);
    }
}
