namespace Acquire.Bench.Lots;

/// <summary>Reads <c>"PATCH R G B"</c> as people write it: a patch and one number for each channel that the process needs.</summary>
internal static class PatchValues
{
    public static IEnumerable<CorrectionFactor> Factors(string text, StripLayout layout, ProcessSheet sheet)
    {
        var (patch, numbers) = Split(text, layout, sheet);
        return sheet.ChannelsNeeded.Zip(numbers, (channel, number) =>
            double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
                ? new CorrectionFactor(patch, channel, value)
                : throw Wrong(text, layout, sheet, $"'{number}' is no number"));
    }

    public static EnteredDensities Densities(string text, StripLayout layout, ProcessSheet sheet)
    {
        var (patch, numbers) = Split(text, layout, sheet);
        return new EnteredDensities(patch, ChannelDensities.Of(sheet.ChannelsNeeded.Zip(numbers, (channel, number) =>
            Density.TryParse(number, out var density)
                ? KeyValuePair.Create(channel, density)
                : throw Wrong(text, layout, sheet, $"'{number}' is no density"))));
    }

    private static (string Patch, string[] Numbers) Split(string text, StripLayout layout, ProcessSheet sheet)
    {
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return words.Length == sheet.ChannelsNeeded.Length + 1
            ? (layout.Get(words[0]).Key, words[1..])
            : throw Wrong(text, layout, sheet, $"it has {words.Length} words");
    }

    private static BenchException Wrong(string text, StripLayout layout, ProcessSheet sheet, string why) => new(
        $"Cannot read \"{text}\": {why}. Expected a patch ({string.Join(", ", layout.Patches.Select(p => p.Key))}) "
        + $"and a number for each of {string.Join(", ", sheet.ChannelsNeeded.Select(c => c.Word()))}, as in "
        + $"\"{layout.Patches[0].Key} {Example(sheet)}\". A decimal point, not a comma.");

    private static string Example(ProcessSheet sheet) => sheet.ChannelsNeeded.Length switch
    {
        1 => "0.26",
        2 => "0.26 0.62",
        3 => "0.26 0.62 0.80",
        _ => "0.26 0.62 0.80 0.50",
    };
}
