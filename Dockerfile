# One image for web, worker and beat; docker-compose.yml gives each its command.
FROM python:3.11-slim-bookworm AS packages
WORKDIR /srv/lapwise
COPY requirements.lock .
RUN python -m venv .venv \
    && .venv/bin/python -m pip install --no-cache-dir --require-hashes -r requirements.lock

FROM python:3.11-slim-bookworm
# what PDFs are drawn with, and backups made with
RUN apt-get update \
    && apt-get install -y --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 \
        postgresql-client \
    && rm -rf /var/lib/apt/lists/* \
    && useradd --system --uid 10001 --home-dir /srv/lapwise lapwise \
    && install -d -o lapwise -g lapwise /var/lib/lapwise
WORKDIR /srv/lapwise
COPY --from=packages /srv/lapwise/.venv .venv
COPY manage.py LICENSE ./
COPY config config
COPY projects projects
COPY openings openings
COPY materials materials
COPY crews crews
COPY static static
COPY templates templates
ENV PATH="/srv/lapwise/.venv/bin:$PATH" \
    PYTHONUNBUFFERED=1 \
    DJANGO_SETTINGS_MODULE=config.settings.production \
    VAR_FOLDER=/var/lib/lapwise \
    XDG_CACHE_HOME=/tmp/cache \
    HOST=0.0.0.0 \
    PORT=8000
# the names in static addresses come from the files' contents, so they are made here; nothing secret is kept
RUN SECRET_KEY=only-while-the-image-is-built-0123456789-abcdefghijkl ALLOWED_HOSTS=localhost \
    DATABASE_URL=postgres://nobody@localhost/none REDIS_URL=redis://localhost \
    python manage.py collectstatic --noinput
USER lapwise
EXPOSE 8000
VOLUME /var/lib/lapwise
HEALTHCHECK --interval=30s --timeout=5s --start-period=30s --retries=3 \
    CMD ["python", "config/bin/healthy.py", "web"]
CMD ["gunicorn", "--config", "config/gunicorn.py", "config.wsgi"]
