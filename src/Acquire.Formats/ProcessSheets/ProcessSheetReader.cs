using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Reads a process sheet from its JSON text.</summary>
public static class ProcessSheetReader
{
    /// <param name="text">The JSON text, as <see cref="ProcessSheetSchema"/> describes it.</param>
    /// <param name="fileName">The file's name, for messages.</param>
    /// <exception cref="ProcessSheetException">
    /// The text is no JSON, or no process sheet. It lists every problem of form found, else every value that cannot be, each with
    /// file, line, column and path.
    /// </exception>
    public static ProcessSheet Read(string text, string fileName)
    {
        ArgumentNullException.ThrowIfNull(text);
        var root = ReadJson(text, fileName);
        var problems = new SpotProblems(fileName);
        var sheet = ReadSheet(root, problems);
        problems.ThrowIfAny();
        return sheet!;
    }

    private static JsonSpot ReadJson(string text, string fileName)
    {
        try
        {
            return JsonSpotReader.Read(text);
        }
        catch (JsonException e)
        {
            var (line, column) = ((e.LineNumber ?? 0) + 1, (e.BytePositionInLine ?? 0) + 1);
            var reason = e.Message.Split(" LineNumber:")[0];
            throw new ProcessSheetException($"{fileName}, line {line}, column {column}: expected a process sheet in JSON. {reason}", e);
        }
    }

    private static ProcessSheet? ReadSheet(JsonSpot root, SpotProblems problems)
    {
        if (!problems.IsObject(root, "key", "name", "status", "layout", "parameters", "note", "layouts", "geometry", "$schema"))
        {
            return null;
        }

        var key = problems.Text(root, "key");
        var name = problems.Text(root, "name");
        _ = problems.OptionalText(root, "$schema");
        // OneOf takes what is absent for the usual, but a status has none: this complains.
        _ = problems.Text(root, "status");
        var status = problems.OneOf(
            root, "status", default, "density status", ("M", DensityStatus.M), ("A", DensityStatus.A), ("visual", DensityStatus.Visual));
        var geometry = problems.OneOf(
            root,
            "geometry",
            DensityGeometry.Transmission,
            "geometry",
            ("transmission", DensityGeometry.Transmission),
            ("reflection", DensityGeometry.Reflection));
        var note = problems.OptionalText(root, "note");
        var layouts = LayoutReader.ReadAll(root, problems);
        var parameters = problems.Items(root, "parameters").Select(p => ParameterReader.Read(p, problems)).ToList();
        return problems.Make(root, () => new ProcessSheet(
            key!, name!, status, [.. layouts.Select(l => l!)], [.. parameters.Select(p => p!)], note)
        {
            Geometry = geometry,
        });
    }
}

/// <summary>The JSON schema of process sheets, for editors that help while writing, and for other programs.</summary>
/// <remarks>
/// <see cref="ProcessSheetReader"/> refuses all that the schema refuses, with the exact spot, and beyond it what a schema cannot say: a
/// patch that no layout has, a control limit inside the action limit.
/// </remarks>
public static class ProcessSheetSchema
{
    private const string Resource = "process-sheet.schema.json";

    /// <summary>The text of the schema (JSON Schema 2020-12).</summary>
    public static string Text()
    {
        using var stream = typeof(ProcessSheetSchema).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"The assembly was built without its resource {Resource}.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}

/// <summary>A process sheet cannot be read or found. Each problem says where it is and what was expected.</summary>
public sealed class ProcessSheetException(ImmutableArray<string> problems, Exception? inner = null)
    : Exception(string.Join(Environment.NewLine, problems), inner)
{
    public ProcessSheetException(string problem, Exception? inner = null)
        : this([problem], inner)
    {
    }

    /// <summary>
    /// Every problem found, for example <c>c41.json, line 12, $.parameters[0].action.upper: expected a number, found a string.</c>
    /// </summary>
    public ImmutableArray<string> Problems { get; } = problems;
}
