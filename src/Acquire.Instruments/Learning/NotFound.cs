namespace Acquire.Instruments.Learning;

/// <summary>Says which shown values stand nowhere on the lines.</summary>
internal static class NotFound
{
    public static string Reason(LearningInput input, Capture capture)
    {
        var scanners = Enum.GetValues<Profiles.DecimalMark>().Select(m => new ValueScanner(m, Math.Max(1, Shown.Decimals(input)))).ToList();
        var seen = capture.Lines.SelectMany(l => scanners.SelectMany(s => s.Scan(l))).Select(s => s.Value).ToHashSet();
        var absent = input.Shown
            .SelectMany(s => s.Values)
            .Where(v => v is { } density && !seen.Contains(density.Value))
            .Select(v => v.ToString()!)
            .Distinct()
            .ToList();
        return absent.Count > 0
            ? $"Shown, but on no line of the capture: {string.Join(", ", absent)}. Check what was typed, and that the capture holds "
                + "those readings; type all decimals."
            : "The shown values stand on the lines, but not all channels of a reading in the same columns each time, or not in the "
                + "order given. Check the order of the readings and --channels.";
    }
}
