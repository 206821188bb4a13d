using Acquire.Storage.Files;

namespace Acquire.Web.Api;

/// <summary>A file that a request brought, in a folder of its own that only the user may enter, and gone with the request.</summary>
internal sealed class Upload : IDisposable
{
    private const int LongestName = 100;

    private Upload(string folder, string name) => (Folder, Name) = (folder, name);

    public string Folder { get; }

    /// <summary>What it is called where it came from, without any folder.</summary>
    public string Name { get; }

    public string File => Path.Combine(Folder, "received");

    /// <summary>The file of the column map; null where none came.</summary>
    public string? Map { get; private set; }

    /// <summary>Receives the body, or the parts <c>file</c> and <c>map</c> of a form.</summary>
    /// <param name="name">What it is called where the request does not say; it names no file here.</param>
    /// <exception cref="BadHttpRequestException">There is no file, or the form is broken.</exception>
    public static async Task<Upload> ReceiveAsync(
        HttpRequest request, string name, string dataFolder, CancellationToken cancellationToken)
    {
        var folder = Path.Combine(dataFolder, "received", Guid.NewGuid().ToString("N"));
        UserOnly.Folder(folder);
        if (!request.HasFormContentType)
        {
            var raw = new Upload(folder, Plain(name));
            await raw.FillAsync(raw.File, request.Body, cancellationToken);
            return raw;
        }

        try
        {
            var form = await request.ReadFormAsync(cancellationToken);
            var file = form.Files["file"]
                ?? throw new BadHttpRequestException("The form has no part named file; put the file of strips there, and a column map in map.");
            var upload = new Upload(folder, Plain(file.FileName.Length > 0 ? file.FileName : name));
            await upload.FillAsync(upload.File, file.OpenReadStream(), cancellationToken);
            if (form.Files["map"] is { } map)
            {
                upload.Map = Path.Combine(folder, "map");
                await upload.FillAsync(upload.Map, map.OpenReadStream(), cancellationToken);
            }

            return upload;
        }
        catch (Exception e) when (e is InvalidDataException or IOException and not BadHttpRequestException)
        {
            Directory.Delete(folder, recursive: true);
            throw new BadHttpRequestException($"The form cannot be read: {e.Message}", e);
        }
    }

    /// <summary>A message with the file called as its sender calls it.</summary>
    public string AsNamed(string message) => message
        .Replace(File, Name, StringComparison.Ordinal)
        .Replace(Path.Combine(Folder, "map"), "map", StringComparison.Ordinal);

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private static string Plain(string name)
    {
        var last = name.Split('/', '\\')[^1];
        var plain = string.Concat(last.Where(c => !char.IsControl(c)).Take(LongestName)).Trim();
        return plain.Length == 0 ? "strips" : plain;
    }

    private async Task FillAsync(string path, Stream from, CancellationToken cancellationToken)
    {
        try
        {
            await using var to = new FileStream(path, UserOnly.Options(FileMode.CreateNew, FileAccess.Write, FileShare.None));
            await from.CopyToAsync(to, cancellationToken);
        }
        catch
        {
            Dispose();
            throw;
        }
    }
}
