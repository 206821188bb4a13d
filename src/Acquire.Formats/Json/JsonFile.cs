using System.Text;
using System.Text.Json;

namespace Acquire.Formats.Json;

/// <summary>
/// A JSON file that a user may have written: what it says, and all that is wrong with it, each with its place, so that every problem is
/// seen at once. Comments and trailing commas do no harm.
/// </summary>
public sealed class JsonFile : IDisposable
{
    private static readonly JsonDocumentOptions Options = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    private readonly string _file;
    private readonly JsonPlaces _places;
    private readonly JsonDocument _document;
    private readonly Func<ImmutableArray<FileProblem>, Exception> _refusal;
    private readonly List<FileProblem> _problems = [];

    /// <summary>Reads a text, and refuses it with all that its schema refuses.</summary>
    /// <param name="file">The file as the user named it.</param>
    /// <param name="form">What the file must be like.</param>
    /// <param name="refusal">Makes the exception of what is wrong with the file, in the order of the file.</param>
    public JsonFile(string text, string file, JsonForm form, Func<ImmutableArray<FileProblem>, Exception> refusal)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(form);
        (_file, _refusal) = (file, refusal);
        var json = Encoding.UTF8.GetBytes(text.TrimStart('\uFEFF'));
        try
        {
            _places = new JsonPlaces(json);
            _document = JsonDocument.Parse(json, Options);
        }
        catch (JsonException e)
        {
            var place = new FilePlace(file, (int)(e.LineNumber ?? 0) + 1, (int)(e.BytePositionInLine ?? 0) + 1);
            throw refusal([new FileProblem(place, $"No valid JSON: {e.Message.Split(" LineNumber:")[0]}")]);
        }

        foreach (var twice in _places.Twice)
        {
            Add(twice, $"'{JsonPlaces.Name(twice)}' is written twice; expected it once.");
        }

        foreach (var (pointer, message) in form.Check(Root))
        {
            Add(pointer, message);
        }

        ThrowIfAny();
    }

    public JsonElement Root => _document.RootElement;

    /// <summary>How many problems there are so far.</summary>
    public int Count => _problems.Count;

    /// <summary>Notes a problem.</summary>
    /// <param name="place">JSON pointer (RFC 6901) of the value; where it is missing, of what it is missing in.</param>
    /// <param name="message">What is wrong and what was expected, in a sentence.</param>
    public void Add(string place, string message)
    {
        var (line, column) = _places.Of(place);
        _problems.Add(new FileProblem(new FilePlace(_file, line, column, JsonPlaces.Path(place)), message));
    }

    /// <summary>Refuses the file when anything is wrong with it.</summary>
    public void ThrowIfAny()
    {
        if (_problems.Count > 0)
        {
            throw _refusal([.. _problems.Distinct().OrderBy(p => (p.Place.Line, p.Place.Column))]);
        }
    }

    public void Dispose() => _document.Dispose();
}
