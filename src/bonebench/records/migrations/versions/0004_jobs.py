"""Long work: what was asked for, how far it is, what came of it."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table('job',
    sa.Column('id', sa.String(length=36), nullable=False),
    sa.Column('kind', sa.String(length=20), nullable=False),
    sa.Column('state', sa.String(length=10), nullable=False),
    sa.Column('asked', sa.JSON(), nullable=False),
    sa.Column('share', sa.Float(), nullable=False),
    sa.Column('words', sa.JSON(), nullable=True),
    sa.Column('stop', sa.Boolean(), nullable=False),
    sa.Column('begun_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('heard_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('ended_at', sa.DateTime(timezone=True), nullable=True),
    sa.Column('result', sa.JSON(), nullable=True),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_job'))
    )
    op.create_index(op.f('ix_job_kind'), 'job', ['kind'], unique=False)


def downgrade() -> None:
    """Take the table away; what came of the work stays where it was kept."""
    op.drop_index(op.f('ix_job_kind'), table_name='job')
    op.drop_table('job')
