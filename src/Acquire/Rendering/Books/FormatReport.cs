namespace Acquire.Rendering.Books;

/// <summary>The film formats built in, with where their areas come from.</summary>
internal static class FormatReport
{
    public static void Write(IAnsiConsole console, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, FilmFormat.All.Select(f => new { f.Key, f.Name, AreaM2 = f.Area, Rolls = f.Area / FilmFormat.Roll, f.Basis }));
            return;
        }

        var table = Tables.New("format", "what", "m²", "rolls of 80 in²", "basis");
        foreach (var format in FilmFormat.All)
        {
            table.Row(
                format.Key,
                format.Name,
                format.Area.ToString("0.0000", CultureInfo.InvariantCulture),
                (format.Area / FilmFormat.Roll).ToString("0.00", CultureInfo.InvariantCulture),
                format.Basis);
        }

        console.WriteTable(table);
        console.Line("Any other area: acquire use 0.2m2, or 80in2");
    }
}
