using Acquire.Instruments.Links;
using Acquire.Web.Api;
using Acquire.Web.Hosting;
using Microsoft.AspNetCore.Builder;

namespace Acquire.Web.Tests.Support;

/// <summary>A service on a store of its own, on a real port of this computer.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    public const string Token = "a token that only the tests know";
    private readonly WebApplication _app;
    private readonly string _folder;

    private RunningService(WebApplication app, AcquireStore store, string folder)
    {
        (_app, Store, _folder) = (app, store, folder);
        Client = new HttpClient { BaseAddress = new Uri(ServiceHost.UrlOf(app)) };
        Client.DefaultRequestHeaders.Authorization = new("Bearer", Token);
    }

    /// <summary>Drawings that say what they were asked; the true ones are the executable's.</summary>
    private static ServiceDrawings Drawings { get; } = new(
        (model, width) => FormattableString.Invariant($"<svg width=\"{width}\"><title>{model.Title}</title></svg>"),
        960, 320, 4000, (report, paper) => $"<html><title>{report.Title}</title><p>{paper}</p></html>");

    /// <summary>Its data folder.</summary>
    public string Folder => _folder;

    public AcquireStore Store { get; }

    /// <summary>A client that carries the token.</summary>
    public HttpClient Client { get; }

    public static async Task<RunningService> StartAsync(
        CancellationToken cancellationToken, Action<ServiceOptions>? options = null, ILinkOpener? links = null)
    {
        var folder = Directory.CreateTempSubdirectory("acquire-web-").FullName;
        var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        var ground = new ServiceGround(
            store, links ?? new LinkOpener(TimeProvider.System), TimeProvider.System, NullLoggerFactory.Instance, "the tests", Drawings);
        var app = ServiceHost.Build(options ?? (_ => { }), folder, Token, ground);
        await app.StartAsync(cancellationToken);
        return new RunningService(app, store, folder);
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
        await Store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
