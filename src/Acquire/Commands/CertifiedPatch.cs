using System.Globalization;
using Acquire.Bench;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Strips;
using Acquire.Domain.Trust;

namespace Acquire.Commands;

/// <summary>Reads <c>"PATCH R G B ± U"</c> as typed on the command line; <c>+-</c> stands for ±, and without it the uncertainty is 0.</summary>
internal static class CertifiedPatch
{
    public static PlaquePatch Parse(string text)
    {
        var parts = text.Replace("+-", "±", StringComparison.Ordinal).Split('±');
        var words = parts[0].Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (parts.Length > 2 || words.Length is not (4 or 5))
        {
            throw Wrong(text, "it is not a patch and three densities, or four with visual");
        }

        var densities = words.Skip(1).Select(w => Density.TryParse(w, out var d) ? d : throw Wrong(text, $"'{w}' is no density")).ToList();
        return new PlaquePatch(
            new Patch(words[0], words[0]),
            new ChannelDensities(densities[0], densities[1], densities[2], densities.Count > 3 ? densities[3] : null),
            parts.Length == 1 ? 0 : Uncertainty(text, parts[1]));
    }

    private static double Uncertainty(string text, string part) =>
        double.TryParse(part, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw Wrong(text, $"'{part.Trim()}' is no uncertainty");

    private static BenchException Wrong(string text, string why) => new(
        $"Cannot read \"{text}\": {why}. Expected a patch, its densities in red, green, blue (and visual), and the certificate's expanded "
        + "uncertainty behind ±, as in \"low 0.05 0.06 0.07 ± 0.01\". A decimal point, not a comma.");
}
