using System.Text;
using System.Text.Json;

namespace Benchmarks;

/// <summary>The figures with their aims.</summary>
internal static class Report
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    public static string Text(IReadOnlyCollection<Figure> figures, string busy)
    {
        var text = new StringBuilder();
        text.AppendLine(busy);
        text.AppendLine(CultureInfo.InvariantCulture, $"{"",-54}{"figure",12}{"aim",14}  {"",-8}spread");
        foreach (var f in figures)
        {
            var aim = f.Aim is { } most ? string.Create(CultureInfo.InvariantCulture, $"≤ {most:0.##} {f.Unit}") : "";
            var word = f.Aim is null ? "" : f.IsMet ? "met" : f.IsMissedByFar ? "MISSED" : "missed";
            text.AppendLine(CultureInfo.InvariantCulture, $"{f.Name,-54}{$"{Shown(f.Value)} {f.Unit}",12}{aim,14}  {word,-8}{f.Spread}");
        }

        return text.ToString().TrimEnd();
    }

    public static string Json(IEnumerable<Figure> figures, string busy) =>
        JsonSerializer.Serialize(new { machine = busy, figures }, Options);

    private static string Shown(double value) =>
        value.ToString(Math.Abs(value) >= 100 ? "0" : Math.Abs(value) >= 10 ? "0.0" : "0.00", CultureInfo.InvariantCulture);
}
