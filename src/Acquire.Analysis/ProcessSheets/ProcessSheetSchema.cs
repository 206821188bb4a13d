namespace Acquire.Analysis.ProcessSheets;

/// <summary>The JSON schema of process sheets, for editors that help while writing, and for other programs.</summary>
/// <remarks>
/// <see cref="ProcessSheetReader"/> refuses all that the schema refuses, with the exact spot, and beyond it what a schema cannot say: a
/// patch
/// that no layout has, a control limit inside the action limit.
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
