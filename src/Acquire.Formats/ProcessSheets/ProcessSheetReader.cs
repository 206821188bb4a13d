using System.Text.Json;
using Acquire.Formats.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Reads a process sheet from its JSON text, which may have comments and trailing commas.</summary>
public static class ProcessSheetReader
{
    private static readonly Lazy<JsonForm> Form = new(() => new JsonForm(ProcessSheetSchema.Text()));

    /// <param name="text">The JSON text, as <see cref="ProcessSheetSchema"/> describes it.</param>
    /// <param name="fileName">The file's name, for messages.</param>
    /// <exception cref="ProcessSheetException">
    /// The text is no JSON, or no process sheet. It lists everything that the schema refuses, else every value that cannot be, each with
    /// file, line, column and path.
    /// </exception>
    public static ProcessSheet Read(string text, string fileName)
    {
        using var file = new JsonFile(text, fileName, Form.Value, problems => new ProcessSheetException([.. problems.Select(p => $"{p}")]));
        var sheet = file.Root.Deserialize<SheetDocument>(JsonText.Edited)!.ToSheet(file);
        file.ThrowIfAny();
        return sheet!;
    }
}

/// <summary>The JSON schema of process sheets, for editors that help while writing, and for other programs.</summary>
/// <remarks>
/// <see cref="ProcessSheetReader"/> refuses all that the schema refuses, and beyond it what a schema cannot say: a patch that no layout
/// has, a control limit inside the action limit.
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

    /// <summary>Whether there is no such sheet; else there is one, with an error.</summary>
    public bool IsNotThere { get; init; }

    /// <summary>
    /// Every problem found, for example <c>c41.json, line 12, column 7, $.parameters[0].action.upper: Expected a number, found …</c>.
    /// </summary>
    public ImmutableArray<string> Problems { get; } = problems;
}
