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

    private RunningService(WebApplication app, AcquireStore store, string folder)
    {
        (_app, Store, Folder) = (app, store, folder);
        Client = With(Token);
    }

    /// <summary>Drawings that say what they were asked; the true ones are the executable's.</summary>
    private static ServiceDrawings Drawings { get; } = new(
        (model, width) => FormattableString.Invariant($"<svg width=\"{width}\"><title>{model.Title}</title></svg>"),
        960, 320, 4000, (report, paper) => $"<html><title>{report.Title}</title><p>{paper}</p></html>");

    public AcquireStore Store { get; }

    /// <summary>The data folder.</summary>
    public string Folder { get; }

    public Uri Address => new(ServiceHost.UrlOf(_app));

    public WebApplication App => _app;

    /// <summary>What the host is made of.</summary>
    public IServiceProvider Services => _app.Services;

    /// <summary>A client that carries the token.</summary>
    public HttpClient Client { get; }

    public static async Task<RunningService> StartAsync(
        CancellationToken cancellationToken, Action<ServiceOptions>? options = null, ILinkOpener? links = null,
        Action<WebApplication>? more = null, string? within = null)
    {
        var folder = within ?? Directory.CreateTempSubdirectory("acquire-web-").FullName;
        var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        var ground = new ServiceGround(
            store, links ?? new LinkOpener(TimeProvider.System), TimeProvider.System, NullLoggerFactory.Instance, "the tests", Drawings);
        var app = ServiceHost.Build(options ?? (_ => { }), folder, Token, ground);
        more?.Invoke(app);
        await app.StartAsync(cancellationToken);
        return new RunningService(app, store, folder);
    }

    /// <summary>A client that carries a token; null for none.</summary>
    public HttpClient With(string? token)
    {
        var client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = Address };
        client.DefaultRequestHeaders.Authorization = token is null ? null : new("Bearer", token);
        return client;
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Ends the service; the data folder stays for another.</summary>
    public async Task StopAsync()
    {
        Client.Dispose();
        await _app.StopAsync();
        await _app.DisposeAsync();
        await Store.DisposeAsync();
    }
}
